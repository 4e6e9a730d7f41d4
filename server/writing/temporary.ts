/**
 * Files that stand for others while these are written: beside them, hidden, of a name that nobody guesses, and never
 * taken for a source. They go when the command ends, however it is told to; what a killed one leaves, a later one takes away.
 */
import { createHash, randomUUID } from 'node:crypto';
import { lstatSync, readdirSync, readlinkSync, unlinkSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';

/** Numbers of processes mean something on one machine alone, and there in one space of them. */
const here = createHash('sha256').update(`${hostname()} ${spaceOfProcesses()}`).digest('hex').slice(0, 12);

function spaceOfProcesses(): string {
  try {
    return readlinkSync('/proc/self/ns/pid');
  } catch {
    return '';
  }
}

/** Short, so that it can be had wherever the name that it stands for can. */
export function temporaryIn(folder: string): string {
  return join(folder, `.storypole-${here}-${process.pid}-${randomUUID()}.tmp`);
}

const named = /^\.storypole-(?:([0-9a-f]{12})-(\d+)-)?[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}\.tmp$/;

/** Nothing takes so long to write; in milliseconds. */
const longest = 24 * 60 * 60 * 1000;

/** Takes away what commands left in these folders that were killed while they wrote. What cannot be is left. */
export function tidy(folders: Iterable<string>, now = Date.now()): void {
  for (const folder of new Set(folders)) quietly(() => tidyOne(folder, now));
}

function tidyOne(folder: string, now: number): void {
  for (const name of readdirSync(folder)) {
    const [, machine, pid] = named.exec(name) ?? [''];
    if (pid === undefined && !named.test(name)) continue;
    const path = join(folder, name);
    quietly(() => {
      const stat = lstatSync(path);
      if (!stat.isFile()) return;
      const isOurs = machine === here && pid !== undefined;
      if (isOurs ? !isRunning(Number(pid)) : now - stat.mtimeMs > longest) removeFile(path);
    });
  }
}

function isRunning(pid: number): boolean {
  // Another thread or an earlier part of this process may be writing.
  if (pid === process.pid) return true;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== 'ESRCH';
  }
}

const endings = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** Files that are being written. The command takes them along when it is told to end. */
const unfinished = new Set<string>();

function removeUnfinished(): void {
  for (const path of unfinished) quietly(() => removeFile(path));
}

function endUnfinished(signal: NodeJS.Signals): void {
  removeUnfinished();
  listenForEnd('off');
  // Ends as it would have without us, for whoever looks at how it ended.
  process.kill(process.pid, signal);
}

function listenForEnd(way: 'on' | 'off'): void {
  process[way]('exit', removeUnfinished);
  for (const signal of endings) process[way](signal, endUnfinished);
}

/** While a file is being written, the command takes it along when it is told to end. Answers what calls that off. */
export function removedWhenCutOff(path: string): () => void {
  if (unfinished.size === 0) listenForEnd('on');
  unfinished.add(path);
  return () => {
    if (unfinished.delete(path) && unfinished.size === 0) listenForEnd('off');
  };
}

/** Whether it is there or not. */
export function removeFile(path: string): void {
  try {
    unlinkSync(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
  }
}

/** For what is done beside the point: why the whole failed, or that it did not, is what is told. */
export function quietly(act: () => void): void {
  try {
    act();
  } catch {
    // See above.
  }
}
