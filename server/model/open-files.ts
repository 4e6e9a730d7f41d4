/** Documents that are open in an editor, and files with them: an open document is there, saved or not. */
import type { Edit, Position } from '../../grammar/source.ts';
import { type Entry, type Files, isWithin, nameOf, parentOf } from './files.ts';

/** The text of an open document. A source keeps it in pieces, joined when somebody asks for it. */
export interface OpenText {
  readonly text: string;
}

/** What edits that are told in lines and columns need to know of a document. */
export interface TextPlaces {
  readonly length: number;
  readonly offsetAt: (position: Position) => number;
}

/** The files on disk, and those that stand in an editor only. */
export function withOpen(files: Files, open: ReadonlyMap<string, OpenText>): Files {
  return {
    read: files.read,
    real: files.real,
    ...(files.isOut && { isOut: (path: string) => !open.has(path) && files.isOut?.(path) === true }),
    kindOf: (path) => {
      if (open.has(path)) return 'file';
      const kind = files.kindOf(path);
      if (kind !== undefined) return kind;
      for (const other of open.keys()) if (isWithin(path, other)) return 'folder';
      return undefined;
    },
    list: (folder) => {
      const onDisk = files.list(folder);
      const unsaved = entriesIn(folder, open.keys(), new Set(onDisk?.map((e) => e.name)));
      if (unsaved.length === 0) return onDisk;
      return [...(onDisk ?? []), ...unsaved].sort((a, b) => (a.name < b.name ? -1 : 1));
    },
  };
}

function entriesIn(folder: string, paths: Iterable<string>, known: ReadonlySet<string>): Entry[] {
  const found = new Map<string, Entry>();
  for (const path of paths) {
    if (!isWithin(folder, path) || path === folder) continue;
    let at = path;
    while (parentOf(at) !== folder) at = parentOf(at);
    const name = nameOf(at);
    if (!known.has(name)) found.set(name, { name, kind: at === path ? 'file' : 'folder' });
  }
  return [...found.values()];
}

/** The text after some edits, each stated in the text that the one before it left. */
export function edited(text: string, edits: readonly Edit[]): string {
  return edits.reduce((t, { start, end, text: put }) => t.slice(0, start) + put + t.slice(Math.max(start, end)), text);
}

/** The one edit that makes a text another: what is the same at both ends stays. */
export function editTo(before: string, after: string): Edit {
  const shorter = Math.min(before.length, after.length);
  let start = 0;
  while (start < shorter && before.charCodeAt(start) === after.charCodeAt(start)) start++;
  let back = 0;
  while (back < shorter - start && before.at(-1 - back) === after.at(-1 - back)) back++;
  return { start, end: before.length - back, text: after.slice(start, after.length - back) };
}

/** How long a text is after some edits, without making it. */
export function lengthAfter(length: number, edits: readonly Edit[]): number {
  return edits.reduce((sum, { start, end, text }) => {
    const from = Math.min(start, sum);
    return sum - (Math.min(Math.max(start, end), sum) - from) + text.length;
  }, length);
}

/** Lines and columns of a text that has no source. Lines end as they do in one: `\r\n`, `\n` or a lone `\r`. */
export function placesIn(text: string): TextPlaces {
  return {
    length: text.length,
    offsetAt({ line, column }) {
      if (line < 0) return 0;
      const ends = /\r\n|\n|\r/g;
      let start = 0;
      for (let i = 0; i < line; i++) {
        if (!ends.test(text)) return text.length;
        start = ends.lastIndex;
      }
      const end = ends.exec(text)?.index ?? text.length;
      return Math.max(start, Math.min(start + column, end));
    },
  };
}
