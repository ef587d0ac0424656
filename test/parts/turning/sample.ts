import type { Job } from "../../../src/job/job.ts";
import { readJob } from "../../../src/job/read-job.ts";
import type { TurnedPiece } from "../../../src/parts/turned-piece.ts";
import { describeTurned } from "../../../src/parts/turning/describe-turned.ts";

/**
 * Two unlike pulls: one hollowed down the crown while it is round, turned by machine, square ends kept; one turned by
 * hand, split at a paper joint, hollowed into the flat backs of its halves. Invented sizes.
 */
export const PULLS = `title: Two unlike pulls
units: mm
measured:
  bead length: 8
parts:
  barrel pull:
    blank: {wood: cherry, length: 190, square: 60}
    turned by: machine
    square ends: 22
    features:
      - turning: profile
        half profile: yes
        waste at ends: 5
        elements:
          - fillet: {length: 3, diameter: 34}
          - bead: {length: = bead length, diameter: 46, from: 38, to: 38}
          - fillet: {length: 2, diameter: 42}
          - ogee: {length: 12, from: 42, to: 52}
          - cylinder: {length: 1 share, diameter: 52}
      - recess: finger room
        cut: down the crown
        width: 58
        room behind: 16
        hook: 11
        wall: sloped 6 deg
        inside radius: 3
        bit: 6 mm round-nose
      - split: halves
        by: saw
        kerf: 1.2
        wander: 0.5

  waisted pull:
    blank: {wood: ash, length: 170, diameter: 60}
    turned by: hand
    square ends: ends already round
    features:
      - turning: profile
        waste at ends: 8
        elements:
          - round-over: {radius: 4, to: 54, name: foot}
          - cylinder: {length: 14, diameter: 54}
          - cove: {length: 90, diameter: 48, from: 52, to: 52}
          - vee: {length: 3, diameter: 52, depth: 1.2}
          - taper: {length: 1 share, from: 52, to: 44}
          - bead: {length: 9, diameter: 48, from: 44}
          - tenon: {length: 12, diameter: 44}
      - recess: finger room
        cut: into the flat back
        shape: rounded rectangle
        corner radius: 6
        fingers: 2
        hand: small
        room behind: 12
        hook: 10
        centre at: 71 from first end
        floor: dished 1.5
      - split: halves
        by: paper joint
`;

/** A job text read; what is wrong with it is thrown. */
export function readPulls(text = PULLS, files: Readonly<Record<string, string>> = {}): Job {
  const r = readJob(text, "pulls.yaml", (p) => files[p]);
  if (!r.ok)
    throw new Error(r.findings.map((f) => `${f.place.source?.line}: ${f.code}: ${f.what}; ${f.mend}`).join("\n"));
  return r.value;
}

/** The turned pieces of a job text; a refusal is thrown. */
export function pieces(text = PULLS, files: Readonly<Record<string, string>> = {}): readonly TurnedPiece[] {
  const d = describeTurned(readPulls(text, files));
  if (!d.ok)
    throw new Error(
      d.findings.map((f) => `${f.place.source?.line}: ${f.code}: ${f.what}; ${f.why}; ${f.mend}`).join("\n"),
    );
  return d.value;
}
