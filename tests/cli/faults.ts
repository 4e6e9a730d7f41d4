/**
 * Files that fail, or a process that is killed, at the n-th call of the file system that touches a folder. In a process of
 * tests by `withFault`; in the command as it is built by `--import` of this file and what `faultIn` puts into the environment.
 */
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';

export interface Fault {
  /** Calls that touch what is in this folder count. */
  readonly folder: string;
  /** From 1. */
  readonly at: number;
  /** What the system answers; `kill` ends the process as nothing can be done about. */
  readonly answer: string;
  /** Calls after it fail, too. */
  readonly forGood?: boolean;
  /** Only these calls count. */
  readonly only?: readonly string[];
}

/** Calls that change nothing on the disk: killed before one is killed before the next. */
const reading = new Set([
  'lstatSync',
  'statSync',
  'realpathSync',
  'readdirSync',
  'readFileSync',
  'accessSync',
  'stat',
  'close',
  'closeSync',
]);

const byPath = [
  ...[
    'openSync',
    'renameSync',
    'linkSync',
    'copyFileSync',
    'unlinkSync',
    'mkdirSync',
    'rmdirSync',
    'rmSync',
    'chmodSync',
  ],
  ...['lstatSync', 'statSync', 'realpathSync', 'readdirSync', 'readFileSync', 'accessSync', 'writeFileSync'],
] as const;
const byHandle = ['writeFile', 'write', 'chmod', 'chown', 'stat', 'sync', 'close'] as const;

type Call = (...args: unknown[]) => unknown;

/** Answers the calls that were counted, and what puts the file system back as it was. */
export function install(fault: Fault): { readonly calls: string[]; readonly restore: () => void } {
  const calls: string[] = [];
  const isKill = fault.answer === 'kill';
  const opened = new Set<unknown>();
  const touches = (args: readonly unknown[]): boolean =>
    args.some(
      (arg) =>
        (typeof arg === 'string' && (arg === fault.folder || arg.startsWith(`${fault.folder}/`))) || opened.has(arg),
    );
  let isOff = false;

  /** Before each call; writing has a middle, too. */
  function step(name: string, half?: () => void): void {
    if (isOff || (isKill && reading.has(name)) || (fault.only && !fault.only.includes(name))) return;
    calls.push(name);
    const isNow = calls.length === fault.at || (fault.forGood && calls.length > fault.at);
    if (!isNow) return;
    half?.();
    if (isKill) process.kill(process.pid, 'SIGKILL');
    throw Object.assign(new Error(`${fault.answer}: said so by a test, ${name}`), {
      code: fault.answer,
      syscall: name,
    });
  }

  const undo: (() => void)[] = [];
  function put(on: object, name: string, wrap: (real: Call) => Call): void {
    const table = on as Record<string, Call>;
    const real = table[name] as Call;
    table[name] = Object.assign(wrap(real), real);
    undo.push(() => {
      table[name] = real;
    });
  }

  for (const name of byPath)
    put(fs, name, (real) => (...args) => {
      if (!touches(args)) return real(...args);
      step(name);
      const result = real(...args);
      if (name === 'openSync') opened.add(result);
      return result;
    });
  for (const name of ['fsyncSync', 'closeSync', 'writeSync'] as const)
    put(fs, name, (real) => (...args) => {
      if (!touches(args)) return real(...args);
      // A number that is closed may be given to another file; what fails to close is closed all the same.
      if (name === 'closeSync') opened.delete(args[0]);
      try {
        step(name);
      } catch (error) {
        if (name === 'closeSync') real(...args);
        throw error;
      }
      return real(...args);
    });
  put(fs.promises, 'open', (real) => async (...args) => {
    if (!touches(args)) return real(...args);
    step('open');
    const handle = (await real(...args)) as Record<string, Call> & { readonly fd: number };
    for (const name of byHandle) {
      const own = (handle[name] as Call).bind(handle);
      handle[name] = async (...given) => {
        const [data] = given;
        const half = name === 'writeFile' ? () => fs.writeSync(handle.fd, halfOf(data)) : undefined;
        try {
          step(name);
          // Half of it is there when it fails.
          if (half) step('writeFile half', half);
        } catch (error) {
          if (name === 'close') await own(...given);
          throw error;
        }
        return own(...given);
      };
    }
    return handle;
  });
  syncBuiltinESMExports();
  return {
    calls,
    restore: () => {
      isOff = true;
      for (const back of undo.reverse()) back();
      syncBuiltinESMExports();
    },
  };
}

function halfOf(data: unknown): Buffer {
  const bytes = typeof data === 'string' ? Buffer.from(data) : Buffer.from(data as Uint8Array);
  return bytes.subarray(0, bytes.length >> 1);
}

/** Does it with the fault in place. Answers the calls that were counted. */
export async function withFault(fault: Fault, act: () => Promise<unknown>): Promise<readonly string[]> {
  const { calls, restore } = install(fault);
  try {
    await act();
  } finally {
    restore();
  }
  return calls;
}

/** For a command that is run with `--import` of this file. */
export function faultIn(fault: Fault): Readonly<Record<string, string>> {
  return { TEST_FAULT: JSON.stringify(fault), NODE_OPTIONS: `--import=${import.meta.filename}` };
}

const asked = process.env.TEST_FAULT;
if (asked !== undefined) {
  const { calls } = install(JSON.parse(asked) as Fault);
  const told = process.env.TEST_FAULT_CALLS;
  // How many there are is asked once, of a run that is left alone.
  if (told !== undefined) process.on('exit', () => fs.writeFileSync(told, calls.join('\n')));
}
