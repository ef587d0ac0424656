import { describe, expect, it } from "vitest";
import { readJob } from "../../src/job/read-job.ts";

const HEAD = "title: T\nunits: mm\nparts: {side: {blank: {wood: ash, length: 100, width: 50, thickness: 9}}}\n";

function read(stock: string) {
  return readJob(`${HEAD}${stock}`, "stock.yaml", () => undefined);
}

describe("boards in the shop", () => {
  it("are read by wood, one of each without a count, in any unit", () => {
    const job = read(
      "stock:\n  white  ash:\n    - {length: 8 ft, width: 6 in, thickness: 20}\n    - {length: 900, width: 140, thickness: 20, count: 3}\n",
    );
    expect(job.findings).toEqual([]);
    expect(job.ok && job.value.stock).toMatchObject([
      {
        wood: "white ash",
        boards: [
          { length: 2438.4, width: 152.4, thickness: 20, count: 1 },
          { length: 900, count: 3 },
        ],
      },
    ]);
  });

  it.each([
    ["a size that is missing", "stock: {ash: [{length: 900, width: 140}]}", "key-missing"],
    ["a size of nothing", "stock: {ash: [{length: 900, width: 0, thickness: 20}]}", "size-not-positive"],
    ["a key with a typo", "stock: {ash: [{length: 900, width: 140, thicknes: 20}]}", "key-unknown"],
    ["a board that stands in no list", "stock: {ash: {length: 900, width: 140, thickness: 20}}", "kind-wrong"],
    ["woods in a list", "stock: [ash]", "kind-wrong"],
  ])("%s is refused where it stands", (_, stock, code) => {
    const job = read(stock);
    expect(job.ok).toBe(false);
    const found = job.findings.find((f) => f.code === code);
    expect(found, job.findings.map((f) => f.code).join()).toBeDefined();
    expect(found!.place.source!.line).toBe(4);
  });

  it("a mistake in one wood hides none in another", () => {
    const job = read(
      "stock:\n  ash: [{length: -1, width: 140, thickness: 20}]\n  cherry: [{length: 1, width: 140, thickness: 0}]\n",
    );
    expect(job.findings.filter((f) => f.code === "size-not-positive").map((f) => f.place.source!.line)).toEqual([5, 6]);
  });
});
