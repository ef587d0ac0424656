import fc from "fast-check";

/**
 * Property tests draw from one seed, so that a run can be repeated: the one given here, or `SEED=123 npm test`, or
 * `SEED=new npm test`, which draws one from the clock. fast-check prints the seed of any failure.
 */
const wanted = process.env["SEED"];
fc.configureGlobal({
  seed: wanted === undefined ? 20261125 : wanted === "new" ? Date.now() & 0x7fffffff : Number(wanted),
});
