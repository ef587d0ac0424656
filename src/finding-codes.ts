/**
 * Every finding the project can make, by code. A code is kebab-case and says what is wrong. `override: false` marks
 * what no job may override: what would wreck wood, machine or person whatever the reason.
 */
export const FINDING_CODES = {
  // anywhere
  "our-bug": { override: false },
  // cli
  "file-unreadable": { override: false },
  "file-unwritable": { override: false },
  "file-edited-since": { override: false },
  "file-left-over": { override: false },
  "seal-broken": { override: false },
  "seal-missing": { override: false },
  // shop and posts
  "shop-file-not-yaml": { override: false },
  "shop-file-unknown-key": { override: false },
  "shop-file-missing": { override: false },
  "shop-file-wrong-value": { override: false },
  "shop-file-disagrees": { override: false },
  "measured-far-from-label": { override: true },
  "spindle-too-fast-for-bit": { override: false },
  "spindle-fast-for-diameter": { override: true },
  "chip-load-low": { override: true },
  "power-short": { override: true },
  "bit-bends": { override: true },
  // program
  "post-not-yaml": { override: false },
  "post-unknown-key": { override: false },
  "post-missing": { override: false },
  "post-wrong-value": { override: false },
  "post-unknown-code": { override: false },
  "post-does-not-fit-machine": { override: false },
  "nothing-to-write": { override: false },
} as const satisfies Record<string, { readonly override: boolean }>;

/** A finding's code. */
export type FindingCode = keyof typeof FINDING_CODES;
