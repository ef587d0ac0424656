import type { FaceName, Size } from "../job/board.ts";
import type { Feature, PartDescription } from "../job/job.ts";
import type { Said } from "./said.ts";

/** A plain strip of wood, its grain along it, as an ordinary part: its first end goes to the front of the case. mm */
export function strip(
  said: Said,
  wood: string,
  size: Size,
  labels: Partial<Readonly<Record<FaceName, string>>>,
  features: readonly Feature[],
  copies: number,
): PartDescription {
  return {
    name: said.part,
    wood,
    size,
    grain: "along length",
    copies,
    labels: {
      face: "face",
      back: "back",
      "lower edge": "lower edge",
      "upper edge": "upper edge",
      "first end": "front end",
      "second end": "back end",
      ...labels,
    },
    faceSide: "face",
    faceEdge: "lower edge",
    features,
    wishes: {},
    source: said.source,
  };
}
