/** The statements of a block with the comments that belong to them, so that they can be moved together. */
import type { Statement } from '../../../grammar/tree.ts';

export interface Piece {
  readonly statement: Statement;
  /** Comments on lines of their own above it. */
  readonly lead: string;
  /** Comments behind it on its last line. */
  readonly trail: string;
  /** An empty line stands above it. */
  readonly apart: boolean;
  /** All of it in the text of the owner, comments included. */
  readonly start: number;
  readonly end: number;
}

export interface Pieces {
  readonly pieces: readonly Piece[];
  /** Comments at the end of the block. */
  readonly rest: string;
}

export function piecesOf({ block, text }: Statement): Pieces {
  if (!block) return { pieces: [], rest: '' };
  const pieces: Piece[] = [];
  let end = block.open + 1;
  let comments = [...block.comments].sort((a, b) => a.start - b.start);
  const upTo = (limit: number): typeof comments => {
    const found = comments.filter((c) => c.start < limit);
    comments = comments.slice(found.length);
    return found;
  };
  const written = (found: typeof comments): string => found.map((c) => text.slice(c.start, c.end)).join('\n');
  for (const statement of block.children) {
    const lead = upTo(statement.offset);
    const start = lead[0]?.start ?? statement.offset;
    const apart = pieces.length > 0 && /\n[ \t\r]*\n/.test(text.slice(end, start));
    end = statement.offset + statement.text.length;
    const line = /^[^\r\n]*/.exec(text.slice(end))?.[0].length ?? 0;
    const next = block.children[pieces.length + 1]?.offset ?? Number.POSITIVE_INFINITY;
    const trail = upTo(Math.min(end + line, next));
    end = Math.max(end, trail.at(-1)?.end ?? 0);
    pieces.push({ statement, lead: written(lead), trail: written(trail), apart, start, end });
  }
  return { pieces, rest: written(comments) };
}

/** A piece as lines, with another text for its statement where one is given. */
export function pieceText({ statement, lead, trail, apart }: Piece, text = statement.text): string {
  return `${apart ? '\n' : ''}${lead && `${lead}\n`}${text}${trail && ` ${trail}`}`;
}

/** Statements in a block: on one line where all are short and nobody wrote them otherwise, else a line each. */
export function blockText(entries: readonly string[], isLong: boolean): string {
  if (entries.length === 0) return '{ }';
  const long = isLong || entries.some((entry) => /\n|\/\/|\/\*/.test(entry));
  return long ? `{\n${entries.join('\n')}\n}` : `{ ${entries.join('; ')} }`;
}

/** Where the head ends, with comments between it and the block that stand on its line. */
export function headEnd({ text, head, block }: Statement): number {
  const before = block ? text.slice(head.end, block.open).trimEnd() : '';
  return /[\r\n]|\/\//.test(before) ? head.end : head.end + before.length;
}
