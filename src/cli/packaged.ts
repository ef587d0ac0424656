import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { basename, join } from "node:path";
import type { Post } from "../program/post.ts";
import { readPost } from "../program/read-post.ts";
import { namesIn } from "./files.ts";

/** Where the package keeps its posts: `post/` beside `dist/` (or `src/`). */
const POSTS = join(import.meta.dirname, "../../post");

/** Text of a post that comes with the package, by name; undefined when there is none of that name. */
export function packagedPost(name: string): string | undefined {
  return packagedNames().includes(name) ? readFileSync(join(POSTS, `${name}.yaml`), "utf8") : undefined;
}

/** Names of the posts that come with the package. */
export function packagedNames(): readonly string[] {
  return namesIn(POSTS)
    .filter((n) => n.endsWith(".yaml"))
    .map((n) => basename(n, ".yaml"));
}

/** The posts that come with the package, read. One that cannot be read is a mistake of ours. */
export function packagedPosts(): readonly Post[] {
  return packagedNames().map((name) => {
    const post = readPost(packagedPost(name)!, `${name}.yaml`);
    if (!post.ok) throw new Error(`the packaged post ${name} is wrong: ${post.findings[0]?.what ?? ""}`);
    return post.value;
  });
}

/** The outline face that comes with Tillwright: EB Garamond, OFL-1.1, its licence beside it in its own package. */
const BOOK_FONT = "@expo-google-fonts/eb-garamond/400Regular/EBGaramond_400Regular.ttf";

/** The bytes of the bundled outline face; undefined where its package is not installed. */
export function bookFont(): Uint8Array | undefined {
  try {
    return readFileSync(createRequire(import.meta.url).resolve(BOOK_FONT));
  } catch {
    return undefined;
  }
}
