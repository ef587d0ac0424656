import type { ReaderCode, Rule } from "./rule.ts";
import { BEAM_ONLY, BEAM_WORDS } from "./rules-beam.ts";
import { HOUSE_RULES } from "./rules-house.ts";
import { LANGUAGE_RULES } from "./rules-language.ts";
import { LATHE_WORDS } from "./rules-lathe.ts";

/** Every rule of the reader, by code. */
export const RULES: Readonly<Record<ReaderCode, Rule>> = { ...LANGUAGE_RULES, ...HOUSE_RULES, ...BEAM_ONLY };

/** The same rules in a turner's words: on a lathe the wood turns, and X is what comes out of it. */
export const LATHE_RULES: Readonly<Record<ReaderCode, Rule>> = { ...RULES, ...LATHE_WORDS };

/** The same rules as they are said of a laser. */
export const BEAM_RULES: Readonly<Record<ReaderCode, Rule>> = { ...RULES, ...BEAM_WORDS };

/** Every code of the reader, in order. */
export const READER_CODES: readonly ReaderCode[] = Object.keys(RULES) as ReaderCode[];
