import type { Finding } from "../finding.ts";
import { fitFinding, mmText, type Said } from "./said.ts";

/** What drives the screws. mm */
export interface Driver {
  readonly name: string;
  /** From the screw's head to its end, bit and all. */
  readonly length: number;
  /** Room that it and the hand around it need upright. */
  readonly height: number;
  /** How far into the case the hand gets with it; absent: as far as an arm. */
  readonly reach?: number;
  readonly source: string;
}

/** Drivers that most shops have, the handiest first. Lengths from memory. */
export function knownDrivers(): readonly Driver[] {
  return [
    {
      name: "a drill with a bit",
      length: 200,
      height: 96,
      source: "lengths from memory; hand breadth: ANSUR II, 95th percentile of men",
    },
    { name: "a stubby driver", length: 85, height: 65, source: "from memory" },
    { name: "an offset driver", length: 32, height: 40, source: "from memory" },
  ];
}

/** An opening and the screws in it. mm */
export interface DriverAsk {
  readonly said: Said;
  /** The narrowest width and least height of the opening. */
  readonly width: number;
  readonly height: number;
  /** How far the runner stands out; the one opposite may be in already. */
  readonly reach: number;
  /** From the case's front edge to the hindmost screw. */
  readonly deepest: number;
  readonly screwLength: number;
  /** Drivers to hand, the handiest first. */
  readonly drivers: readonly Driver[];
}

/** What can drive the screws; absent: nothing, so the runners go on before the case is glued up. */
export interface DriverFit {
  readonly driver?: Driver;
  /** Straight across, from the screw that still stands out to the runner opposite. */
  readonly room: number;
  readonly findings: readonly Finding[];
}

/** How far a screw stands in its pilot hole before it is driven, mm. */
const STARTED = 3;
/** Length of an arm from the elbow that goes into a case, mm: from memory. */
const ARM = 400;

/**
 * Whether a driver fits into the opening straight behind the screw. It can only caution: the lengths are remembered, and
 * a hand finds ways.
 */
export function driverFit(ask: DriverAsk): DriverFit {
  const room = ask.width - 2 * ask.reach - (ask.screwLength - STARTED);
  const driver = ask.drivers.find((d) => d.length <= room && d.height <= ask.height && ask.deepest <= (d.reach ?? ARM));
  if (driver !== undefined) return { driver, room, findings: [] };
  return {
    room,
    findings: [
      fitFinding(
        ask.said,
        "caution",
        "fit-driver-no-room",
        {
          what: "no driver fits into the opening: fit the runners before glue-up",
          why: `${mmText(room)} are left behind a screw that is just started, in an opening ${mmText(ask.height)} high, the last screw ${mmText(ask.deepest)} in; ${ask.drivers.map((d) => `${d.name} needs ${mmText(d.length)} by ${mmText(d.height)}`).join(", ") || "no driver is named"}`,
          mend: "screw the runners on before the case is glued up, with the spacers on the bare sides, or say which driver you have",
          keys: ["screw"],
        },
        {
          found: room,
          limit: Math.min(...ask.drivers.map((d) => d.length), room),
          from: "drivers' lengths, from memory",
        },
      ),
    ],
  };
}
