import { plainMarks } from "./marks.ts";
import { type Read, read, unread } from "./problem.ts";

/**
 * Reads a temperature of the air: `21 °C`, `21 C`, `21 deg C`, `70 F`, `70 °F`. A bare number is asked about: 70 may be a warm
 * room or a boiling one.
 * @returns °C; Fahrenheit by C = (F − 32) · 5/9, exact by definition
 */
export function readTemperature(text: string): Read<number> {
  const plain = plainMarks(text).trim();
  const at = text.length - text.trimStart().length;
  const found = /^([-+]?)(\d+(?:\.\d+)?|\.\d+)\s*(?:°|deg(?:rees?)?\.?)?\s*(c|f|celsius|centigrade|fahrenheit)?$/i.exec(
    plain,
  );
  if (!found) {
    return unread({
      code: "temperature-form",
      what: `"${text.trim().slice(0, 40)}" is no temperature`,
      mend: "write, for example, 21 °C or 70 °F",
      at,
      length: plain.length,
    });
  }
  const [, sign, digits, scale] = found;
  if (scale === undefined) {
    return unread({
      code: "temperature-form",
      what: `${plain} of which degrees?`,
      mend: `write ${digits} °C or ${digits} °F`,
      at,
      length: plain.length,
    });
  }
  const value = (sign === "-" ? -1 : 1) * Number(digits);
  return read(/^f/i.test(scale) ? ((value - 32) * 5) / 9 : value);
}

/** Reads a share in per cent, such as a humidity or the reading of a moisture meter: `65 %` or `65`. The range is not judged here. */
export function readPercent(text: string): Read<number> {
  const plain = plainMarks(text).trim();
  const found = /^(\d+(?:\.\d+)?|\.\d+)\s*(?:%|per ?cent|percent)?$/i.exec(plain);
  if (found) return read(Number(found[1]));
  return unread({
    code: "percent-form",
    what: `"${text.trim().slice(0, 40)}" is no share in per cent`,
    mend: "write, for example, 65 %",
    at: text.length - text.trimStart().length,
    length: plain.length,
  });
}
