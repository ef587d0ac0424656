import type { ReaderCode, Rule } from "./rule.ts";
import { HOUSE_RULES } from "./rules-house.ts";
import { LANGUAGE_RULES } from "./rules-language.ts";
import { LATHE_WORDS } from "./rules-lathe.ts";

/** Every rule of the reader, by code. */
export const RULES: Readonly<Record<ReaderCode, Rule>> = { ...LANGUAGE_RULES, ...HOUSE_RULES };

/** The same rules in a turner's words: on a lathe the wood turns, and X is what comes out of it. */
export const LATHE_RULES: Readonly<Record<ReaderCode, Rule>> = { ...RULES, ...LATHE_WORDS };

/** Every code of the reader, in order. */
export const READER_CODES: readonly ReaderCode[] = Object.keys(RULES) as ReaderCode[];
