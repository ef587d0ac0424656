import { join } from "node:path";
import type { Finding } from "../finding.ts";
import { shown, sweepLeftovers, writeWhole } from "./files.ts";

/** A file to be written into a folder. */
export type FileToWrite =
  | { readonly name: string; readonly text: string }
  | { readonly name: string; readonly bytes: Uint8Array };

/**
 * Writes files into a folder, each whole or not at all, and notes the names of those that are written.
 * @returns what the system said when one could not be
 */
export function writeAll(folder: string, files: readonly FileToWrite[], written: string[]): Finding | undefined {
  let name = "";
  try {
    sweepLeftovers(folder);
    for (const file of files) {
      name = file.name;
      writeWhole(join(folder, file.name), "text" in file ? Buffer.from(file.text, "utf8") : file.bytes);
      written.push(file.name);
    }
    return undefined;
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === undefined) throw error;
    return {
      grade: "refuse",
      code: "file-unwritable",
      place: {},
      what: `cannot write ${shown(join(folder, name))}`,
      why: `the system says ${code}; ${written.length} files before it are whole`,
      mend: "check the folder's permissions and the space on the disk, or name another folder with --out",
    };
  }
}
