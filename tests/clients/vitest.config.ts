import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';

/** The tests with a browser and with other editors: npm run test:clients. */
export default defineConfig({
  root: resolve(import.meta.dirname, '../..'),
  test: {
    include: ['tests/clients/**/*.test.ts'],
    globalSetup: ['tests/built.ts'],
    maxWorkers: 1,
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
