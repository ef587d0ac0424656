import { randomBytes } from "node:crypto";
import {
  closeSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from "node:fs";
import { basename, dirname, isAbsolute, join, relative, resolve, sep } from "node:path";
import type { Finding } from "../finding.ts";

/** Largest file that is read at all, bytes: a job, a shop file, a drawing or a program beyond it is not one of ours. */
const LARGEST = 64 * 1024 * 1024;

/** Reads a text file whole, or says in a finding why it cannot be read. */
export function readText(path: string): { readonly text: string } | { readonly finding: Finding } {
  try {
    const stat = statSync(path);
    if (stat.isDirectory()) return { finding: unreadable(path, "it is a folder", "name the file inside it") };
    if (!stat.isFile()) return { finding: unreadable(path, "it is not an ordinary file", "name an ordinary file") };
    if (stat.size > LARGEST) return { finding: unreadable(path, "it is larger than 64 MB", "is it the right file?") };
    const bytes = readFileSync(path);
    try {
      return { text: new TextDecoder("utf-8", { fatal: true }).decode(bytes) };
    } catch {
      return { finding: unreadable(path, "it is not text in UTF-8", "save it as plain text, UTF-8") };
    }
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === "ENOENT" || code === "ENOTDIR") {
      return { finding: unreadable(path, "there is no such file", near(path) ?? "check the name and the folder") };
    }
    if (code === "EACCES" || code === "EPERM") {
      return { finding: unreadable(path, "you are not allowed to read it", "change its permissions, or copy it") };
    }
    return { finding: unreadable(path, `the system says ${code ?? "no"}`, "check the disk and the name") };
  }
}

/** A reader for files that a job names: only below the job's own folder, links followed and checked. */
export function readerBelow(folder: string): (name: string) => string | undefined {
  return (name) => {
    const path = below(folder, name);
    if (path === undefined) return undefined;
    const read = readText(path);
    return "text" in read ? read.text : undefined;
  };
}

/** The same for files that are no text: fonts and pictures. */
export function bytesBelow(folder: string): (name: string) => Uint8Array | undefined {
  return (name) => {
    const path = below(folder, name);
    if (path === undefined) return undefined;
    try {
      const stat = statSync(path);
      return stat.isFile() && stat.size <= LARGEST ? readFileSync(path) : undefined;
    } catch {
      return undefined;
    }
  };
}

function below(folder: string, name: string): string | undefined {
  if (isAbsolute(name) || name.includes("\0")) return undefined;
  try {
    const root = realpathSync(resolve(folder));
    const path = realpathSync(resolve(root, name));
    return path.startsWith(root + sep) ? path : undefined;
  } catch {
    return undefined;
  }
}

/**
 * Writes a file whole or not at all: into a temporary file beside it, flushed to disk, then renamed over it. Killed at
 * any moment, the name holds the old file or the new one. A file that holds these very bytes already is not touched.
 */
export function writeWhole(path: string, bytes: Uint8Array): void {
  try {
    if (Buffer.compare(readFileSync(path), bytes) === 0) return;
  } catch {
    // Not there yet, or unreadable: written below, or refused there by the system.
  }
  mkdirSync(dirname(path), { recursive: true });
  const temporary = join(dirname(path), `.${basename(path)}.${randomBytes(6).toString("hex")}.part`);
  try {
    const handle = openSync(temporary, "wx", 0o644);
    try {
      writeAll(handle, bytes);
      fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
    renameSync(temporary, path);
  } catch (error) {
    rmSync(temporary, { force: true });
    throw error;
  }
}

function writeAll(handle: number, bytes: Uint8Array): void {
  let at = 0;
  while (at < bytes.length) at += writeSync(handle, bytes, at);
}

/** Temporary files that a killed run left behind in a folder are removed. */
export function sweepLeftovers(folder: string): void {
  for (const name of namesIn(folder)) {
    if (/^\..+\.[0-9a-f]{12}\.part$/.test(name)) rmSync(join(folder, name), { force: true });
  }
}

/** Ordinary files in a folder, by name, sorted; none when the folder is not there. */
export function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder)
      .filter((name) => lstatSync(join(folder, name)).isFile())
      .sort();
  } catch {
    return [];
  }
}

/** A path as a person at this folder would type it. */
export function shown(path: string): string {
  const short = relative(process.cwd(), path);
  return short !== "" && !short.startsWith("..") ? short : path;
}

function unreadable(path: string, why: string, mend: string): Finding {
  return { grade: "refuse", code: "file-unreadable", place: {}, what: `cannot read ${path}`, why, mend };
}

/** "did you mean case.yaml?" when a file in the same folder has nearly the same name. */
function near(path: string): string | undefined {
  const wanted = basename(path).toLowerCase();
  const names = namesIn(dirname(resolve(path)));
  const close = names.find(
    (n) => n.toLowerCase() === wanted || n.toLowerCase().replace(/\.[^.]*$/, "") === wanted.replace(/\.[^.]*$/, ""),
  );
  return close === undefined ? undefined : `did you mean ${join(dirname(path), close)}?`;
}
