import { defaultCutters } from "./default-cutters.ts";
import { defaultLathes, defaultTurningTools } from "./default-lathes.ts";
import { defaultMachines } from "./default-machines.ts";
import { defaultWoods } from "./default-woods.ts";
import type { Habits, Shop } from "./shop.ts";

/** How a careful small shop works, where the shop file doesn't say. mm; common practice, no source. */
export const DEFAULT_HABITS: Habits = {
  roughing: "conventional",
  finishing: "climb",
  clearance: 5,
  approach: 1,
  intoWasteBoard: 0.5,
  allowance: 0.3,
  gaugeBlock: 10,
  leastWeb: 3,
  leastHold: 10,
};

/** What each habit is called in the shop file. */
export const HABIT_WORDS: Readonly<Record<Exclude<keyof Habits, "sanding">, string>> = {
  roughing: "roughing",
  finishing: "finishing",
  clearance: "clearance",
  approach: "approach",
  intoWasteBoard: "into waste board",
  allowance: "allowance",
  gaugeBlock: "gauge block",
  leastWeb: "least web",
  leastHold: "least hold",
};

/** The shop of someone who has not written a shop file yet: nothing in it is theirs, and every page says so. */
export const DEFAULT_SHOP: Shop = {
  machines: defaultMachines(),
  cutters: defaultCutters(),
  woods: defaultWoods(),
  habits: DEFAULT_HABITS,
  defaultsUsed: [
    ...defaultMachines().map((m) => `machine "${m.name}": invented, not your machine`),
    ...defaultCutters().map((c) => `cutter "${c.name}": invented sizes, not measured`),
    ...defaultWoods().map((w) => `wood "${w.name}": the Wood Handbook's averages`),
    ...Object.values(HABIT_WORDS).map((h) => `habit "${h}": common practice, no source`),
  ],
  lathes: defaultLathes(),
  turningTools: defaultTurningTools(),
  turningDefaultsUsed: [
    ...defaultLathes().map((l) => `lathe "${l.name}": invented, not your lathe`),
    ...defaultTurningTools().map((t) => `turning tool "${t.name}": invented sizes, not measured`),
  ],
};
