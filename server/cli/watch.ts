/** Doing something again after each change of the files it rests on. */
import { basename, dirname } from 'node:path';
import { watch } from 'chokidar';
import { isLookedInto } from '../model/walked.ts';
import type { Answer } from './answer.ts';
import { Stop } from './stop.ts';
import { chooseUncomputed } from './targets.ts';
import { printable } from './words.ts';

/** So long nothing must have changed: editors write a file in several steps. */
const quiet = 150;

/**
 * Does it once, and then again after each change of a .closet file in the folders of the chosen projects. What goes
 * wrong is told, and watching goes on. Ends where it is told to end (Ctrl-C), with status 0. What `once`
 * answers is told in one line.
 */
export async function watching(paths: readonly string[], once: () => Promise<Answer>): Promise<void> {
  const again = async (): Promise<void> => {
    const clock = new Date().toTimeString().slice(0, 8);
    let shown: string;
    try {
      const { result, remark } = await once();
      shown = [[...result].join('').trim(), ...(remark === undefined ? [] : [remark])].join(' ');
    } catch (error) {
      if (!(error instanceof Stop)) throw error;
      shown = error.message;
    }
    process.stderr.write(`storypole: ${clock} ${printable(shown)}\n`);
  };
  const folders = foldersOf(paths);
  const watcher = watch(folders, {
    ignored: (path, stats) =>
      stats?.isFile() ? !path.endsWith('.closet') : !folders.includes(path) && !isLookedInto(basename(path)),
    ignoreInitial: true,
    persistent: true,
  });
  await new Promise<void>((resolve, reject) => {
    let timer: NodeJS.Timeout | undefined;
    let running: Promise<void> | undefined;
    let isAsked = false;
    const run = (): void => {
      timer = undefined;
      if (running) {
        isAsked = true;
        return;
      }
      running = again()
        .catch(reject)
        .finally(() => {
          running = undefined;
          if (isAsked) {
            isAsked = false;
            run();
          }
        });
    };
    const soon = (): void => {
      clearTimeout(timer);
      timer = setTimeout(run, quiet);
    };
    const end = (): void => {
      clearTimeout(timer);
      // What is being written is finished or has not begun.
      void (running ?? Promise.resolve()).finally(resolve);
    };
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, end);
    watcher.on('all', soon).on('error', () => undefined);
    // Not before everything is watched, so that no change gets lost between.
    watcher.once('ready', run);
  });
  await watcher.close();
  process.exitCode = 0;
}

/** Those of the projects; throws Stop where a path is not there. */
function foldersOf(paths: readonly string[]): string[] {
  const chosen = chooseUncomputed(paths, process.cwd());
  return [...new Set(chosen.map(({ root, alone }) => (alone ? dirname(root) : root)))];
}
