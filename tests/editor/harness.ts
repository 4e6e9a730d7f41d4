/** As much of a test runner as a suite inside VS Code needs: tests in written order, a limit each, a count at the end. */
import { writeFileSync } from 'node:fs';

interface Test {
  name: string;
  body: () => Promise<void>;
}

const tests: Test[] = [];
let afterwards: () => Promise<void> = async () => {};
/** So long a test goes on, on a machine that has much else to do, before it is taken to hang. */
const limit = 60_000;
const mostTries = 3;

/** Tells the suite's own lines from what VS Code prints beside them. */
export const mark = 'suite| ';

function say(text: string): void {
  for (const line of text.split('\n')) console.log(mark + line);
}

export function it(name: string, body: () => Promise<void>): void {
  tests.push({ name, body });
}

/** Says what is done after each test, passed or not. */
export function afterEach(body: () => Promise<void>): void {
  afterwards = body;
}

/**
 * Windows, focus and keys come and go as the editor pleases, so a test that did not pass is tried again, and what it said
 * the first time is printed all the same. What fails each time has failed.
 */
async function passes(name: string, body: () => Promise<void>): Promise<boolean> {
  for (let left = mostTries - 1; ; left--) {
    const started = performance.now();
    try {
      await within(limit, body());
      say(`ok      ${name} (${Math.round(performance.now() - started)} ms)`);
      return true;
    } catch (error) {
      const why = error instanceof Error ? (error.stack ?? error.message) : String(error);
      say(`${left > 0 ? 'again  ' : 'FAILED '} ${name}\n${why}`);
      if (left === 0) return false;
    } finally {
      await within(limit, afterwards());
    }
  }
}

/** Runs every test, prints a line for each, writes the counts where run.ts looks for them. Rejects when one failed. */
export async function runAll(): Promise<void> {
  const only = (process.env.STORYPOLE_SUITE_ONLY ?? '').split('|');
  const chosen = tests.filter(({ name }) => only.some((words) => name.includes(words)));
  let failed = 0;
  for (const { name, body } of chosen) {
    if (!(await passes(name, body))) failed += 1;
  }
  const counts = { passed: chosen.length - failed, failed };
  const results = process.env.STORYPOLE_SUITE_RESULTS;
  if (results !== undefined) writeFileSync(results, JSON.stringify(counts));
  if (failed > 0) throw new Error(`${failed} of ${chosen.length} tests failed`);
}

async function within<T>(milliseconds: number, work: Promise<T>): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error(`not done within ${milliseconds / 1000} s`)), milliseconds);
  });
  try {
    return await Promise.race([work, late]);
  } finally {
    clearTimeout(timer);
  }
}
