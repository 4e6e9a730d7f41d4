import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    globalSetup: ['tests/built.ts'],
    setupFiles: ['tests/seed.ts'],
    // The editor suite runs inside VS Code (npm run test:editor), what needs a browser or another editor beside it
    // (npm run test:clients), not here.
    exclude: ['tests/editor/**', 'tests/clients/**', 'node_modules/**'],
    // Two cores are the smallest machine the suite is planned for.
    maxWorkers: 2,
    testTimeout: 120_000,
    hookTimeout: 60_000,
  },
});
