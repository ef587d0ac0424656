import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    root: new URL("..", import.meta.url).pathname,
    include: ["test/**/*.test.ts"],
    setupFiles: ["test/setup.ts"],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // Nothing in src keeps state at module level, so files may share what is loaded: half the time of a run.
    isolate: false,
    maxWorkers: "100%",
  },
});
