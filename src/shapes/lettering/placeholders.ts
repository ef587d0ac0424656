import type { Outcome } from "../../finding.ts";
import { closest } from "../../units/closest.ts";
import { refusal } from "./say.ts";

/** What a text may ask for in braces. */
export const PLACEHOLDERS = ["name", "drawer", "row", "column", "count", "date", "serial"] as const;
/** One of them. */
export type Placeholder = (typeof PLACEHOLDERS)[number];

/** What the placeholders of one mark stand for; those that this part has no value for are absent. */
export type PlaceholderValues = Readonly<Partial<Record<Placeholder, string>>>;

/**
 * Fills `{name}` and the like. `{{` and `}}` stand for single braces. Values are taken as they are: braces in them are
 * not looked at again. Refuses, all at once: placeholders unknown (with the nearest known one), without a value here, and
 * braces without a partner.
 */
export function fillPlaceholders(text: string, values: PlaceholderValues): Outcome<string> {
  const faults = new Map<string, ReturnType<typeof refusal>>();
  const filled = text.replace(/\{\{|\}\}|\{([^{}\n]*)\}|[{}]/g, (whole, inner: string | undefined) => {
    if (whole === "{{" || whole === "}}") return whole.slice(1);
    const asked = inner?.trim().toLowerCase();
    const known = PLACEHOLDERS.find((p) => p === asked);
    const value = known === undefined ? undefined : values[known];
    if (value !== undefined) return value;
    faults.set(whole, fault(whole, asked, known));
    return whole;
  });
  return faults.size > 0 ? { ok: false, findings: [...faults.values()] } : { ok: true, value: filled, findings: [] };
}

function fault(whole: string, asked: string | undefined, known: Placeholder | undefined): ReturnType<typeof refusal> {
  const all = PLACEHOLDERS.map((p) => `{${p}}`).join(", ");
  if (asked === undefined) {
    return refusal(
      "lettering-placeholder",
      `a lone ${whole} in the text`,
      "braces hold placeholders",
      `write ${whole}${whole} for one brace`,
    );
  }
  if (known !== undefined) {
    const mend = known === "date" || known === "serial" ? `give the mark a ${known}` : "write it out";
    return refusal("lettering-placeholder", `nothing is known here to fill ${whole} with`, undefined, mend);
  }
  const near = closest(asked, PLACEHOLDERS);
  return refusal(
    "lettering-placeholder",
    `unknown placeholder ${whole.slice(0, 40)}`,
    `there are ${all}`,
    near === undefined ? "use one of these, or {{ for a brace" : `did you mean {${near}}?`,
  );
}
