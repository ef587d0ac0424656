/**
 * Reads back what pages of an uncompressed PDF draw: enough of ISO 32000-1 (§8.4 graphics state, §8.5 paths, §9.4 text)
 * to follow the operators that drawings use, and none of the code that wrote them. Lengths in mm from the upper left corner.
 */

/** A stroked or clipped path, or a line of text, as it comes on the paper. */
export interface PdfPath {
  readonly points: readonly (readonly Place[])[];
  readonly width: number;
  readonly dashed: boolean;
  readonly clip: Box | undefined;
}
export interface PdfText {
  readonly at: Place;
  /** Direction of the baseline, degrees, counter-clockwise as seen. */
  readonly turnedDeg: number;
  readonly size: number;
  readonly text: string;
}
export interface PdfPage {
  readonly width: number;
  readonly height: number;
  readonly paths: readonly PdfPath[];
  readonly texts: readonly PdfText[];
}
export interface Place {
  readonly x: number;
  readonly y: number;
}
export interface Box {
  readonly min: Place;
  readonly max: Place;
}

type Matrix = readonly [number, number, number, number, number, number];
const MM = 25.4 / 72;

/** All pages of a PDF, in order. @throws Error for an operator or an object it doesn't know */
export function readPdf(bytes: Uint8Array): readonly PdfPage[] {
  const text = Buffer.from(bytes).toString("latin1");
  const objects = new Map([...text.matchAll(/(\d+) 0 obj\n([\s\S]*?)\nendobj/g)].map((m) => [m[1]!, m[2]!]));
  const kids = [...objects.values()].find((o) => /\/Type \/Pages/.test(o))?.match(/\/Kids \[([^\]]*)\]/)?.[1];
  if (kids === undefined) throw new Error("no pages");
  return [...kids.matchAll(/(\d+) 0 R/g)].map((m) => readPage(objects.get(m[1]!)!, objects));
}

function readPage(page: string, objects: ReadonlyMap<string, string>): PdfPage {
  const box = page
    .match(/\/MediaBox \[([^\]]*)\]/)![1]!
    .trim()
    .split(/\s+/)
    .map(Number);
  if (!/\/UserUnit 1\b/.test(page) && /\/UserUnit/.test(page)) throw new Error("a user unit");
  const stream = objects.get(page.match(/\/Contents (\d+) 0 R/)![1]!)!;
  if (/\/Filter/.test(stream)) throw new Error("compressed");
  const body = stream.match(/stream\n([\s\S]*)\nendstream/)![1]!;
  return { width: box[2]! * MM, height: box[3]! * MM, ...run(body, box[3]!) };
}

interface State {
  readonly ctm: Matrix;
  readonly width: number;
  readonly dashed: boolean;
  readonly clip: Box | undefined;
}

function run(body: string, height: number): { paths: PdfPath[]; texts: PdfText[] } {
  const paths: PdfPath[] = [];
  const texts: PdfText[] = [];
  let state: State = { ctm: [1, 0, 0, 1, 0, 0], width: 1, dashed: false, clip: undefined };
  const kept: State[] = [];
  let sub: Place[][] = [];
  let clipping = false;
  let textMatrix: Matrix = [1, 0, 0, 1, 0, 0];
  let size = 0;
  const stack: (number | string | (number | string)[])[] = [];
  const nums = (n: number): number[] => stack.slice(-n).map(Number);
  const place = (x: number, y: number, m: Matrix = state.ctm): Place => ({
    x: (m[0] * x + m[2] * y + m[4]) * MM,
    y: (height - (m[1] * x + m[3] * y + m[5])) * MM,
  });
  const scale = (): number => Math.sqrt(Math.abs(state.ctm[0] * state.ctm[3] - state.ctm[1] * state.ctm[2]));
  let pen = { x: 0, y: 0 };
  const end = (): void => {
    if (clipping) {
      const all = sub.flat();
      const box = {
        min: { x: Math.min(...all.map((p) => p.x)), y: Math.min(...all.map((p) => p.y)) },
        max: { x: Math.max(...all.map((p) => p.x)), y: Math.max(...all.map((p) => p.y)) },
      };
      state = { ...state, clip: box };
      clipping = false;
    }
    sub = [];
  };
  for (const token of tokens(body)) {
    if (typeof token !== "string" || !token.startsWith("op:")) {
      stack.push(token);
      continue;
    }
    switch (token.slice(3)) {
      case "q":
        kept.push(state);
        break;
      case "Q":
        state = kept.pop()!;
        break;
      case "cm":
        state = { ...state, ctm: times(nums(6) as unknown as Matrix, state.ctm) };
        break;
      case "w":
        state = { ...state, width: nums(1)[0]! };
        break;
      case "d": {
        const list = stack[stack.length - 2];
        state = { ...state, dashed: Array.isArray(list) && list.length > 0 };
        break;
      }
      case "m": {
        const [x, y] = nums(2) as [number, number];
        sub.push([place(x, y)]);
        pen = { x, y };
        break;
      }
      case "l": {
        const [x, y] = nums(2) as [number, number];
        sub[sub.length - 1]!.push(place(x, y));
        pen = { x, y };
        break;
      }
      case "c": {
        const [x1, y1, x2, y2, x3, y3] = nums(6) as [number, number, number, number, number, number];
        for (let i = 1; i <= 16; i++) {
          const t = i / 16;
          const u = 1 - t;
          const mix = (a: number, b: number, c: number, d: number): number =>
            u ** 3 * a + 3 * u * u * t * b + 3 * u * t * t * c + t ** 3 * d;
          sub[sub.length - 1]!.push(place(mix(pen.x, x1, x2, x3), mix(pen.y, y1, y2, y3)));
        }
        pen = { x: x3, y: y3 };
        break;
      }
      case "re": {
        const [x, y, w, h] = nums(4) as [number, number, number, number];
        sub.push([place(x, y), place(x + w, y), place(x + w, y + h), place(x, y + h), place(x, y)]);
        break;
      }
      case "h":
        sub[sub.length - 1]!.push(sub[sub.length - 1]![0]!);
        break;
      case "S":
        paths.push({ points: sub, width: state.width * scale() * MM, dashed: state.dashed, clip: state.clip });
        end();
        break;
      // Filled areas carry no size to measure; their colours none either.
      case "f":
      case "f*":
      case "n":
        end();
        break;
      case "W":
        clipping = true;
        break;
      case "BT":
        textMatrix = [1, 0, 0, 1, 0, 0];
        break;
      case "Tm":
        textMatrix = nums(6) as unknown as Matrix;
        break;
      case "Tf":
        size = nums(1)[0]!;
        break;
      case "TJ": {
        const m = times(textMatrix, state.ctm);
        const list = stack[stack.length - 1];
        const said = (Array.isArray(list) ? list : []).filter((p) => typeof p === "string").join("");
        texts.push({
          at: place(0, 0, m),
          turnedDeg: (Math.atan2(m[1], m[0]) * 180) / Math.PI,
          size: size * Math.hypot(m[0], m[1]) * MM,
          text: said,
        });
        break;
      }
      case "ET":
      case "cs":
      case "scn":
        break;
      default:
        throw new Error(`an operator that drawings don't use: ${token.slice(3)}`);
    }
    stack.length = 0;
  }
  return { paths, texts };
}

function times(a: Matrix, b: Matrix): Matrix {
  return [
    a[0] * b[0] + a[1] * b[2],
    a[0] * b[1] + a[1] * b[3],
    a[2] * b[0] + a[3] * b[2],
    a[2] * b[1] + a[3] * b[3],
    a[4] * b[0] + a[5] * b[2] + b[4],
    a[4] * b[1] + a[5] * b[3] + b[5],
  ];
}

function* tokens(body: string): Generator<number | string | (number | string)[]> {
  let list: (number | string)[] | undefined;
  for (const m of body.matchAll(/\[|\]|<([0-9a-fA-F]*)>|\/[A-Za-z0-9]+|[-+]?[0-9]*\.?[0-9]+|[A-Za-z*]+/g)) {
    const t = m[0];
    if (t === "[") list = [];
    else if (t === "]") {
      yield list!;
      list = undefined;
    } else {
      const value = t.startsWith("<")
        ? Buffer.from(m[1]!, "hex").toString("latin1")
        : /^[-+.0-9]/.test(t)
          ? Number(t)
          : t.startsWith("/")
            ? t
            : `op:${t}`;
      if (list === undefined) yield value;
      else list.push(value);
    }
  }
}

/** A page as SVG in mm, with nothing but its paths, for rendering. */
export function pageSvg(page: PdfPage): string {
  const clips = page.paths.map((p, i) =>
    p.clip === undefined
      ? ""
      : `<clipPath id="c${i}"><rect x="${p.clip.min.x}" y="${p.clip.min.y}" width="${p.clip.max.x - p.clip.min.x}" height="${p.clip.max.y - p.clip.min.y}"/></clipPath>`,
  );
  const paths = page.paths.map((p, i) => {
    const d = p.points.map((run) => `M${run.map((q) => `${q.x} ${q.y}`).join("L")}`).join("");
    return `<path d="${d}" fill="none" stroke="#000" stroke-width="${p.width}"${p.clip === undefined ? "" : ` clip-path="url(#c${i})"`}/>`;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${page.width}mm" height="${page.height}mm" viewBox="0 0 ${page.width} ${page.height}"><defs>${clips.join("")}</defs><rect width="100%" height="100%" fill="#fff"/>${paths.join("")}</svg>`;
}
