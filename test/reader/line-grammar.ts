import peggy from "peggy";

/** What a line says, by an oracle that shares nothing with the reader. */
export interface OracleLine {
  readonly deleted: boolean;
  readonly percent: boolean;
  readonly n: number | undefined;
  readonly words: readonly (readonly [string, number])[];
  readonly settings: readonly (readonly [number, number])[];
}

/**
 * Line syntax of NISTIR 6556 appendix E as a parsing expression grammar over text from which blanks outside comments
 * are already taken and letters already raised; expressions are worked out as they are parsed.
 */
const parser = peggy.generate(`
{
  // Rounded as the reader does, so that both fall on the same side of a jump.
  const degrees = (x) => x * (180 / Math.PI);
  const radians = (x) => x / (180 / Math.PI);
  const need = (ok, x) => { if (!ok || !Number.isFinite(x)) error("no value"); return x; };
  const fold = (head, tail) => tail.reduce((a, [op, b]) => op(a, b), head);
}
Line = "%" { return { deleted: false, percent: true, n: undefined, words: [], settings: [] }; }
  / d:"/"? n:Number5? items:Item* {
      return {
        deleted: d !== null, percent: false, n: n === null ? undefined : n,
        words: items.filter((i) => i.word).map((i) => i.word),
        settings: items.filter((i) => i.setting).map((i) => i.setting),
      };
    }
Number5 = "N" d:$([0-9] [0-9]? [0-9]? [0-9]? [0-9]?) { return Number(d); }
Item = Comment / Setting / Word
Comment = "(" [\\t\\x20-\\x27\\x2a-\\x7e]* ")" { return {}; }
Setting = "#" i:Index "=" v:Value { return { setting: [i, v] }; }
Word = l:[ABCDFGHIJKLMPQRSTXYZ] v:Value { return { word: [l, v] }; }
Value = Unary / Bracket / "#" i:Index { return options.parameters.get(i) ?? 0; } / Real
Index = v:Value { const i = Math.round(v); need(Math.abs(v - i) <= 0.0001 && i >= 1 && i <= 5399, i); return i; }
Real = t:$([+-]? ([0-9]+ "."? [0-9]* / "." [0-9]+)) { return Number(t); }
Bracket = "[" v:Sum "]" { return v; }
Sum = h:Product t:(SumOp Product)* { return fold(h, t); }
Product = h:Power t:(ProductOp Power)* { return fold(h, t); }
Power = h:Value t:(PowerOp Value)* { return fold(h, t); }
SumOp = "+" { return (a, b) => need(true, a + b); }
  / "-" { return (a, b) => need(true, a - b); }
  / "OR" { return (a, b) => Number(Boolean(a) || Boolean(b)); }
  / "XOR" { return (a, b) => Number(Boolean(a) !== Boolean(b)); }
  / "AND" { return (a, b) => Number(Boolean(a) && Boolean(b)); }
ProductOp = "*" !"*" { return (a, b) => need(true, a * b); }
  / "/" { return (a, b) => need(b !== 0, a / b); }
  / "MOD" { return (a, b) => need(b !== 0, a % b < 0 ? (a % b) + Math.abs(b) : a % b); }
PowerOp = "**" { return (a, b) => need(a >= 0 || Number.isInteger(b), Math.pow(a, b)); }
Unary = "ATAN" y:Bracket "/" x:Bracket { return degrees(Math.atan2(y, x)); }
  / "ABS" v:Bracket { return v < 0 ? -v : v; }
  / "ACOS" v:Bracket { return need(v >= -1 && v <= 1, degrees(Math.acos(v))); }
  / "ASIN" v:Bracket { return need(v >= -1 && v <= 1, degrees(Math.asin(v))); }
  / "COS" v:Bracket { return Math.cos(radians(v)); }
  / "EXP" v:Bracket { return need(true, Math.exp(v)); }
  / "FIX" v:Bracket { return Math.floor(v); }
  / "FUP" v:Bracket { return Math.ceil(v); }
  / "LN" v:Bracket { return need(v > 0, Math.log(v)); }
  / "ROUND" v:Bracket { return v < 0 ? -Math.floor(0.5 - v) : Math.floor(v + 0.5); }
  / "SIN" v:Bracket { return Math.sin(radians(v)); }
  / "SQRT" v:Bracket { return need(v >= 0, Math.sqrt(v)); }
  / "TAN" v:Bracket { return need(true, Math.tan(radians(v))); }
`);

/** The oracle's reading of a line, or undefined when it breaks the syntax. */
export function oracleLine(line: string, parameters: ReadonlyMap<number, number>): OracleLine | undefined {
  if (line.length > 253) return undefined;
  try {
    return parser.parse(squeezed(line), { parameters }) as OracleLine;
  } catch (problem) {
    if (problem instanceof Error && problem.name === "SyntaxError") return undefined;
    throw problem;
  }
}

/** The line without blanks and in capitals, comments left alone. */
function squeezed(line: string): string {
  return line.replace(/\([^)]*\)?|[ \t]+|[^( \t]+/g, (piece) =>
    piece.startsWith("(") ? piece : /^[ \t]*$/.test(piece) ? "" : piece.replace(/[a-z]/g, (c) => c.toUpperCase()),
  );
}
