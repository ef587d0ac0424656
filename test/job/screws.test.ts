import { describe, expect, it } from "vitest";
import { knownScrews, screwCalled } from "../../src/job/screws.ts";

describe("wood screws", () => {
  it("slip through their clearance holes, and their heads are wider", () => {
    for (const s of knownScrews()) {
      expect(s.clearance, s.name).toBeGreaterThan(s.bodyDiameter);
      expect(s.headDiameter, s.name).toBeGreaterThan(s.clearance);
      expect(s.source).not.toBe("");
    }
  });

  it("grow with their numbers, near twice the body at the head (E. Joyce, Technique of Furniture Making)", () => {
    for (const s of knownScrews()) {
      expect(s.headDiameter / s.bodyDiameter, s.name).toBeGreaterThan(1.95);
      expect(s.headDiameter / s.bodyDiameter, s.name).toBeLessThan(2.1);
    }
  });

  it("No. 8 is 0.164 in thick (ASME B18.6.1), and a 4 mm head is 8 mm (DIN 7997)", () => {
    expect(screwCalled("no 8").screw!.bodyDiameter).toBeCloseTo(0.164 * 25.4, 12);
    expect(screwCalled("4 mm").screw!.headDiameter).toBe(8);
  });

  it.each(["no 6", "No. 6", "no6", "number 6", "6 gauge", "6g", "NO 6 screw", "#6"])("%s is a No. 6", (said) => {
    expect(screwCalled(said).screw?.name).toBe("no 6");
  });

  it.each(["4 mm", "4mm", "M4 mm", "4.0 mm screws"])("%s is a 4 mm screw", (said) => {
    expect(screwCalled(said).screw?.name).toBe("4 mm");
  });

  it("a bare number is asked about", () => {
    expect(screwCalled("6")).toEqual({ like: "no 6" });
    expect(screwCalled("elephant")).toEqual({});
  });
});
