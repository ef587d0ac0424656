/**
 * What must go along with the bundled single-stroke faces wherever they are passed on.
 * Source: the licence that travels with the data (permissive; every format but the one of the U.S. NTIS).
 */
export const HERSHEY_NOTICE = [
  "The Hershey Fonts were originally created by Dr. A. V. Hershey while working at the U. S. National Bureau of Standards.",
  "The format of the font data in this distribution was originally created by James Hurt, Cognition, Inc., 900 Technology Park Drive, Billerica, MA 01821 (mit-eddie!ci-dandelion!hurt).",
  "The font data may be converted into any other format except the format distributed by the U.S. NTIS.",
].join("\n");
