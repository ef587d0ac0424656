import type { FindingCode } from "../finding-codes.ts";

/** The files beside a job file: what they hold, by a path relative to its folder, `/` between folders. */
export interface Files {
  readonly readText: (relativePath: string) => string | undefined;
  /** The same for files that are no text: fonts, pictures. Absent: there are none to be had. */
  readonly readBytes?: ((relativePath: string) => Uint8Array | undefined) | undefined;
  /** The bundled outline face; absent: not to be had here. */
  readonly bookFont?: (() => Uint8Array | undefined) | undefined;
  /** Today, as 2026-11-25; absent: nobody looks at the clock. */
  readonly today?: string | undefined;
}

/** Largest file that a job may draw in, characters. */
export const MOST_FILE_CHARACTERS = 4 * 1024 * 1024;

type FileIn =
  | { readonly ok: true; readonly path: string; readonly text: string }
  | { readonly ok: false; readonly code: FindingCode; readonly what: string; readonly mend: string };

/**
 * A file that the job names. Only files in the job's own folder, or in folders within it, are read: no absolute path,
 * no `..` that leads out, no drive or address.
 */
export function fileIn(files: Files, named: string): FileIn {
  const path = pathWithin(named);
  if (path === undefined) return outside(named);
  const text = files.readText(path);
  if (text === undefined) return missing(path);
  if (text.length > MOST_FILE_CHARACTERS) {
    return {
      ok: false,
      code: "job-too-large",
      what: `"${path}" is too large`,
      mend: "keep only what is to be cut in the drawing",
    };
  }
  return { ok: true, path, text };
}

type BytesIn =
  | { readonly ok: true; readonly path: string; readonly bytes: Uint8Array }
  | { readonly ok: false; readonly code: FindingCode; readonly what: string; readonly mend: string };

/** A font or picture that the job names, from within its folder as with `fileIn`. */
export function bytesIn(files: Files, named: string): BytesIn {
  const path = pathWithin(named);
  if (path === undefined) return outside(named);
  const bytes = files.readBytes?.(path);
  return bytes === undefined ? missing(path) : { ok: true, path, bytes };
}

function outside(named: string): Extract<FileIn, { ok: false }> {
  return {
    ok: false,
    code: "path-outside-job",
    what: `"${named.slice(0, 80)}" is not in the job's folder`,
    mend: "copy the file beside the job file, and write its name alone; use / between folders",
  };
}

function missing(path: string): Extract<FileIn, { ok: false }> {
  return {
    ok: false,
    code: "file-missing",
    what: `there is no file "${path}" beside the job file`,
    mend: "check its name, capitals too, and that it lies in the job's folder",
  };
}

/** The path without `.` and inner `..`; undefined when it is absolute, empty, or leads out of the folder. */
export function pathWithin(named: string): string | undefined {
  if (/[\u0000-\u001f\\:*?"<>|]/.test(named) || named.startsWith("/") || named.startsWith("~") || named.length > 400)
    return undefined;
  const steps: string[] = [];
  for (const step of named.split("/")) {
    if (step === "" || step === ".") continue;
    if (step === "..") {
      if (steps.pop() === undefined) return undefined;
    } else steps.push(step);
  }
  return steps.length === 0 ? undefined : steps.join("/");
}
