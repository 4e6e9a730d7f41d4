/** Two templates of which one extends the other as one text: what the first says, with what the second says in its place. */
import type { Statement } from '../../../grammar/tree.ts';
import { groupOf, thingName } from '../../model/blueprint.ts';
import { dotted, pathIn, type Reading, says } from '../../model/reading.ts';
import { headText } from './extending.ts';
import { blockText, type Piece, piecesOf, pieceText } from './pieces.ts';

/** The block of both, in the order in which the model has them: things of the base where it has them, new ones behind. */
export function mergedBlock(base: Reading, own: Reading): string {
  const before = piecesIn(base);
  const after = piecesIn(own);
  const taken = new Set<Piece>();
  const entries: string[] = [];
  const take = (piece: Piece): void => {
    if (taken.has(piece)) return;
    taken.add(piece);
    entries.push(pieceText(piece));
  };
  for (const { piece, reading, key } of before.all) {
    // A test is of the template that it stands in.
    if (reading?.word === 'test') continue;
    if (!reading || key === undefined) {
      entries.push(pieceText(piece));
      continue;
    }
    const others = after.all.filter((other) => other.key === key);
    const [first] = others;
    if (!first?.reading) entries.push(pieceText(piece));
    else if (isProperty(key)) for (const other of others) take(other.piece);
    else if (taken.has(first.piece)) continue;
    else if (first.reading.word !== reading.word) take(first.piece);
    else {
      taken.add(first.piece);
      entries.push(mergedPiece(piece, reading, first.piece, first.reading));
    }
  }
  for (const { piece } of after.all) take(piece);
  for (const rest of [before.rest, after.rest]) if (rest) entries.push(rest);
  return blockText(entries, isLong(base.statement) || isLong(own.statement));
}

interface Content {
  readonly piece: Piece;
  readonly reading: Reading | undefined;
  /** The same for what takes each other's place. */
  readonly key: string | undefined;
}

function piecesIn({ statement, children }: Reading): { readonly all: readonly Content[]; readonly rest: string } {
  const readings = new Map(children.map((child) => [child.statement, child]));
  const unnamed = new Map<string, number>();
  const { pieces, rest } = piecesOf(statement);
  const all = pieces.map((piece): Content => {
    const reading = readings.get(piece.statement);
    const name =
      reading && (groupOf(reading.word) || reading.word === 'corner') ? thingName(reading, unnamed) : undefined;
    const key = reading && (name === undefined ? `: ${reading.word}` : `${groupOf(reading.word)} ${name}`);
    return { piece, reading, key };
  });
  return { all, rest };
}

function isProperty(key: string): boolean {
  return key.startsWith(': ');
}

function mergedPiece(base: Piece, before: Reading, own: Piece, after: Reading): string {
  const doc = docOf(own.statement) || docOf(base.statement);
  const lead = [base.lead, own.lead].filter(Boolean).join('\n');
  const trail = [base.trail, own.trail].filter(Boolean).join(' ');
  const head = mergedHead(before, after);
  const hasBlock = before.statement.block ?? after.statement.block;
  const text = `${doc}${head}${hasBlock ? ` ${mergedBlock(before, after)}` : ''}`;
  // A comment up to the end of its line would swallow the one behind it, and nothing else.
  return pieceText({ ...own, lead, trail, apart: base.apart || own.apart }, text);
}

/** What the second head leaves out, it has from the first. */
function mergedHead(before: Reading, after: Reading): string {
  const { statement } = after;
  const own = headText(statement);
  switch (after.word) {
    case 'zone':
    case 'gap': {
      const name = statement.items[0];
      const wall = wallText(after) ?? wallText(before);
      const start = startText(after) ?? startText(before);
      const named = name ? statement.text.slice(statement.word.start, name.end) : own;
      return [named, wall, start].filter((part) => part !== undefined).join(' ');
    }
    case 'opening':
    case 'fixture': {
      const wall = wallText(after) ? undefined : wallText(before);
      return wall === undefined ? own : `${own} ${wall}`;
    }
    default:
      return own;
  }
}

function wallText(reading: Reading): string | undefined {
  const wall = pathIn(reading, 'wall');
  if (wall) return `on ${dotted(wall)}`;
  return says(reading, 'ceiling') ? 'on ceiling' : undefined;
}

export function startText({ statement, literals }: Reading): string | undefined {
  const first = literals.find((path) => ['after', 'before', 'from', 'centred'].includes(dotted(path)));
  return first && statement.text.slice(first.start, statement.head.end);
}

function docOf({ text, word }: Statement): string {
  return text.slice(0, word.start);
}

function isLong({ text, block }: Statement): boolean {
  return block !== undefined && text.slice(block.open).includes('\n');
}
