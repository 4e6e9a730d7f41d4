/**
 * The one way in which commands write files: each is whole beside its place, on the disk and not merely on its way there,
 * before any takes its place; and where one cannot, none does. Nobody ever finds half a file, whenever the command ends.
 */
import { readFileSync } from 'node:fs';
import { open } from 'node:fs/promises';
import { printable } from '../model/printable.ts';
import type { FileToWrite, Pieces } from './file-to-write.ts';
import { makeFolder, removeFolders } from './folders.ts';
import { putInPlace, type Staged } from './place.ts';
import { reasonOf } from './reason.ts';
import { Stop } from './stop.ts';
import { changedMeanwhile, type Target, targetOf } from './target.ts';
import { quietly, removedWhenCutOff, removeFile, temporaryIn, tidy } from './temporary.ts';

export interface Written {
  readonly count: number;
  /** What whoever asked should know of them, a sentence each. */
  readonly notes: readonly string[];
}

/**
 * Writes them one after the other as they come. Throws Stop, which says what could not be written, why, and what to do;
 * then none is, and what was there is there still. Only where that cannot be put back it says what there is instead.
 */
export async function writeFiles(files: Iterable<FileToWrite> | AsyncIterable<FileToWrite>): Promise<Written> {
  const folders: string[] = [];
  const staged = new Map<string, Staged>();
  const besides: string[] = [];
  const looked = new Set<string>();
  const settled: (() => void)[] = [];
  const notes: string[] = [];
  let current: FileToWrite | undefined;
  try {
    for await (const file of files) {
      current = file;
      const target = targetOf(file);
      if (file.makesFolder) makeFolder(target.folder, folders);
      if (!looked.has(target.folder)) tidy([target.folder]);
      looked.add(target.folder);
      const beside = temporaryIn(target.folder);
      settled.push(removedWhenCutOff(beside));
      besides.push(beside);
      await writeWhole(beside, target, file.pieces);
      if (target.there) file.overBy?.(target.there, beside);
      notes.push(...target.notes);
      const other = staged.get(target.path);
      if (other) onlyOnce(other, file, beside);
      else staged.set(target.path, { file, target, beside });
    }
    putInPlace([...staged.values()], folders);
  } catch (error) {
    for (const beside of besides) quietly(() => removeFile(beside));
    removeFolders(folders);
    throw told(error, current);
  } finally {
    for (const off of settled) off();
  }
  return { count: staged.size, notes };
}

/** Two names, by a link, for one file. */
function onlyOnce(first: Staged, second: FileToWrite, beside: string): void {
  if (!readFileSync(first.beside).equals(readFileSync(beside)))
    throw new Stop(
      `${printable(first.file.shown)} and ${printable(second.shown)} are one file by two names, and it would be written in two ways. Nothing was written.`,
    );
  removeFile(beside);
}

/** With the permissions, and as far as we may the owner, of what it takes the place of. */
async function writeWhole(path: string, { there }: Target, pieces: Pieces): Promise<void> {
  const mode = there ? Number(there.stat.mode) & 0o777 : 0o666;
  // Where something of this name is, even a link, it is not opened.
  const file = await open(path, 'wx', mode);
  try {
    for await (const piece of pieces) await file.writeFile(piece);
    if (there) {
      const made = await file.stat({ bigint: true });
      const isGroupKept =
        (made.uid === there.stat.uid && made.gid === there.stat.gid) ||
        (await file.chown(Number(there.stat.uid), Number(there.stat.gid)).then(
          () => true,
          () =>
            file.chown(Number(made.uid), Number(there.stat.gid)).then(
              () => true,
              () => made.gid === there.stat.gid,
            ),
        ));
      // A group that could not be kept is let do no more than anybody, as it was never meant.
      const kept = isGroupKept ? mode : (mode & 0o707) | ((mode & 0o007) << 3);
      if ((Number(made.mode) & 0o777) !== kept) await file.chmod(kept);
    }
    await file.sync();
  } finally {
    await file.close();
  }
}

function told(error: unknown, file: FileToWrite | undefined): unknown {
  if (error instanceof Stop || !file) return error;
  const { code, file: own = file } = error as { code?: string; file?: FileToWrite };
  // Only what the system said is about the file; the rest is a mistake of ours.
  if (code === undefined) return error;
  if (code === 'EEXIST') return own.taken?.() ?? changedMeanwhile(own.shown);
  return new Stop(`${printable(own.shown)} cannot be written: ${reasonOf(error)}. Nothing was written.`);
}
