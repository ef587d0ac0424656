import type { ReaderCode, Rule } from "./rule.ts";
import { HOUSE_RULES } from "./rules-house.ts";
import { LANGUAGE_RULES } from "./rules-language.ts";

/** Every rule of the reader, by code. */
export const RULES: Readonly<Record<ReaderCode, Rule>> = { ...LANGUAGE_RULES, ...HOUSE_RULES };

/** Every code of the reader, in order. */
export const READER_CODES: readonly ReaderCode[] = Object.keys(RULES) as ReaderCode[];
