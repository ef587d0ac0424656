import jpeg from "jpeg-js";
import { PNG } from "pngjs";
import type { Finding, Outcome, Place } from "../../finding.ts";
import { type GreyPicture, greyOfColours } from "./grey-picture.ts";
import { looksLikeJpeg, readJpegHeader } from "./jpeg-header.ts";
import type { HeaderTrouble, PictureHeader } from "./picture-header.ts";
import { looksLikePng, readPngHeader, unpacksToSize } from "./png-header.ts";
import { turnPicture } from "./turn.ts";

/** How large a picture may be. */
export interface PictureLimits {
  /** Most pixels. */
  readonly pixels: number;
  /** Most pixels on one side. */
  readonly side: number;
  /** Most memory while decoding, bytes. */
  readonly memory: number;
  /** Largest file, bytes. */
  readonly file: number;
  /** Most pixels gone through, over all scans of a picture that builds up in steps. */
  readonly work: number;
}

/** A photo of 16 million pixels and no more: a signature needs one, a burned picture a tenth of that. */
export const PICTURE_LIMITS: PictureLimits = {
  pixels: 16_777_216,
  side: 20_000,
  memory: 512 * 1024 * 1024,
  file: 64 * 1024 * 1024,
  work: 160_000_000,
};

/**
 * A PNG or JPEG as greys, upright as its camera's note says; what is see-through is white. Size and memory are judged
 * from the header, before a pixel is unpacked. Colours are read as sRGB; embedded colour profiles are not.
 * Refuses what is no picture, damaged, cut short, too large, or of a kind that isn't read.
 */
export function decodePicture(
  bytes: Uint8Array,
  place: Place = {},
  limits: PictureLimits = PICTURE_LIMITS,
): Outcome<GreyPicture> {
  const refuse = (finding: Omit<Finding, "grade" | "place">): Outcome<GreyPicture> => ({
    ok: false,
    findings: [{ grade: "refuse", place, ...finding }],
  });
  if (bytes.length > limits.file) {
    return refuse(tooLarge("The picture's file is too large", bytes.length / 2 ** 20, limits.file / 2 ** 20, "MiB"));
  }
  const png = looksLikePng(bytes);
  if (!png && !looksLikeJpeg(bytes)) {
    return refuse({
      code: "picture-unknown-kind",
      what: bytes.length === 0 ? "The picture's file is empty" : "The file is neither a PNG nor a JPEG picture",
      why: "its first bytes say so, whatever its name",
      mend: "save the picture as PNG or JPEG",
    });
  }
  const header = png ? readPngHeader(bytes) : readJpegHeader(bytes);
  if ("trouble" in header) return refuse(troubleOf(header.trouble));
  const beyond = sizeTrouble(header, limits);
  if (beyond !== undefined) return refuse(beyond);
  if (png && !unpacksToSize(bytes, header)) return refuse(troubleOf("damaged"));
  const stored = unpack(bytes, png, limits);
  if (stored === undefined || stored.width !== header.width || stored.height !== header.height) {
    return refuse(troubleOf("damaged"));
  }
  if (header.turned === 1) return { ok: true, value: stored, findings: [] };
  return {
    ok: true,
    value: turnPicture(stored, header.turned),
    findings: [
      {
        grade: "note",
        code: "picture-turned",
        place,
        what: "The camera noted how the photo was held, and it was turned upright by that",
        why: `${TURNS[header.turned - 1]} (EXIF orientation ${header.turned})`,
        mend: "if it lies wrong in the preview, turn the photo, save it anew, and try again",
      },
    ],
  };
}

const TURNS = [
  "as it is",
  "left for right",
  "half a turn",
  "top for bottom",
  "a quarter turn clockwise, then left for right",
  "a quarter turn clockwise",
  "a quarter turn counter-clockwise, then left for right",
  "a quarter turn counter-clockwise",
] as const;

/** Memory for one pixel while decoding, bytes: as stored, as four bytes, as grey twice, with the decoder's own copies. */
const BYTES_PER_PIXEL = 24;

function sizeTrouble(header: PictureHeader, limits: PictureLimits): Omit<Finding, "grade" | "place"> | undefined {
  const { width, height } = header;
  if (width < 1 || height < 1) {
    return {
      code: "picture-empty",
      what: "The picture has no pixels",
      why: `it says it is ${width} × ${height}`,
      mend: "save the picture anew",
    };
  }
  const pixels = width * height;
  if (Math.max(width, height) > limits.side) {
    return tooLarge("The picture has too many pixels on a side", Math.max(width, height), limits.side, "pixels");
  }
  if (pixels > limits.pixels) return tooLarge("The picture has too many pixels", pixels, limits.pixels, "pixels");
  const memory = pixels * (BYTES_PER_PIXEL + header.bitsPerPixel / 8);
  if (memory > limits.memory) {
    return tooLarge("The picture takes too much memory", memory / 2 ** 20, limits.memory / 2 ** 20, "MiB");
  }
  if (header.scans * pixels > limits.work) {
    return tooLarge("The picture is built up in too many steps", header.scans, limits.work / pixels, "steps");
  }
  return undefined;
}

function tooLarge(what: string, value: number, limit: number, unit: string): Omit<Finding, "grade" | "place"> {
  return {
    code: "picture-too-large",
    what,
    measured: { value, bound: 0, unit },
    limit: { value: limit, unit, from: "what is read, so that no file can take the machine" },
    mend: "make it smaller in an image editor: ten pixels for each millimetre on the wood are plenty",
  };
}

function troubleOf(trouble: HeaderTrouble["trouble"]): Omit<Finding, "grade" | "place"> {
  switch (trouble) {
    case "cut short":
      return {
        code: "picture-damaged",
        what: "The picture's file is cut short",
        why: "its end is missing",
        mend: "copy it anew from where it came",
      };
    case "damaged":
      return {
        code: "picture-damaged",
        what: "The picture's file is damaged",
        why: "what it holds does not fit what it says of itself",
        mend: "open it in an image editor and save it anew as PNG",
      };
    case "arithmetic coding":
    case "lossless coding":
    case "printing colours":
    case "deep colours":
      return {
        code: "picture-unknown-kind",
        what: "This kind of JPEG is not read",
        why: `it uses ${trouble}`,
        mend: "save it anew as a PNG, or as an ordinary JPEG in red, green and blue",
      };
  }
}

/** The decoders throw on whatever they cannot read, untyped; each such throw means a damaged file. */
function unpack(bytes: Uint8Array, png: boolean, limits: PictureLimits): GreyPicture | undefined {
  try {
    if (png) {
      const { width, height, data } = PNG.sync.read(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
      return data.length === 4 * width * height ? greyOfColours(width, height, data, 4) : undefined;
    }
    const { width, height, data } = jpeg.decode(bytes, {
      useTArray: true,
      formatAsRGBA: false,
      tolerantDecoding: false,
      maxResolutionInMP: Math.ceil(limits.pixels / 1e6),
      maxMemoryUsageInMB: limits.memory / 2 ** 20,
    });
    return data.length === 3 * width * height ? greyOfColours(width, height, data, 3) : undefined;
  } catch {
    return undefined;
  }
}
