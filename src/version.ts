/** The version that seals, reports and `--version` carry; a test holds it to package.json. */
export const VERSION = "0.1.0";
