/**
 * What each word, name and number of a file is, for colours that know the vocabulary. It agrees with the TextMate
 * grammar and knows more: an argument from a word of the language, a parameter from a material, a garment that ships
 * with the tool from one of the project.
 *
 * A file comes in pieces: the head of a declaration, and each statement in its block with all that is in it. The
 * tokens of a piece are kept with its statement, so an edit costs the piece it is in.
 */
import type { Source } from '../../grammar/source.ts';
import {
  type Expression,
  type Item,
  type Path,
  type Range,
  type Segment,
  type Statement,
  statementsWithin,
  type Word,
} from '../../grammar/tree.ts';
import { literalsWithin, type RefKind, type SlotType, slotsOf } from '../model/phrase.ts';
import { type Reading, readingAt } from '../model/reading.ts';
import { type BlockPlace, placesOf, type WordEntry, wordIn } from '../model/vocabulary.ts';
import type { Snapshot } from './snapshot.ts';
import { lineageAt } from './target.ts';

/** In the order of the legend. All but `unit` (of measure) are those of the protocol. */
export const tokenTypes = [
  'namespace',
  'class',
  'interface',
  'type',
  'parameter',
  'variable',
  'property',
  'enumMember',
  'function',
  'keyword',
  'string',
  'number',
  'unit',
] as const;
export type TokenType = (typeof tokenTypes)[number];

export const tokenModifiers = ['declaration', 'definition', 'readonly', 'defaultLibrary'] as const;
export type TokenModifier = (typeof tokenModifiers)[number];

/** `start` and `end` count from the start of the piece, or of the file. */
export interface Token extends Range {
  readonly type: TokenType;
  readonly modifiers: readonly TokenModifier[];
}

export interface TokenPiece {
  readonly segment: Segment;
  /** Where it begins in the segment. */
  readonly at: number;
  readonly text: string;
  /** In their order; the same array as long as nothing in it has changed. */
  readonly tokens: readonly Token[];
}

/** All of a file, in order. */
export function tokenPiecesOf(snapshot: Snapshot): TokenPiece[] {
  const pieces: TokenPiece[] = [];
  const turn = turnOf(snapshot);
  for (const segment of snapshot.source.segments) addPieces(snapshot, segment, turn, pieces);
  return pieces;
}

/** Of a file that nobody looks at any more: in a whole building, they are more than its texts. */
export function forgetTokens(source: Source): void {
  for (const segment of source.segments) {
    keptSegments.delete(segment);
    for (const top of segment.statements) for (const statement of statementsWithin(top)) kept.delete(statement);
  }
}

/** The tokens that a stretch of a file touches, in offsets of the file. */
export function tokensIn(snapshot: Snapshot, { start, end }: Range): Token[] {
  const found: Token[] = [];
  const turn = turnOf(snapshot);
  for (const segment of snapshot.source.segmentsIn({ start, end })) {
    const pieces: TokenPiece[] = [];
    addPieces(snapshot, segment, turn, pieces);
    for (const { at, text, tokens } of pieces) {
      const base = segment.offset + at;
      if (base > end || base + text.length < start) continue;
      for (const token of tokens) {
        const moved = { ...token, start: base + token.start, end: base + token.end };
        if (moved.end >= start && moved.start <= end) found.push(moved);
      }
    }
  }
  return found;
}

/** What the tokens of a piece rest on beside its text. */
interface Around {
  /** The parameters of the template it is in; names of materials can be theirs. */
  readonly parameters: ReadonlySet<string>;
  readonly isShipped: (garment: string) => boolean;
  /** The same for the same. */
  readonly key: string;
}

/** A segment up to so many characters is one piece. */
const onePiece = 4000;

const keptSegments = new WeakMap<Segment, { readonly key: string; readonly tokens: readonly Token[] }>();
const kept = new WeakMap<Statement, { readonly key: string; readonly tokens: readonly Token[] }>();

function addPieces(snapshot: Snapshot, segment: Segment, turn: string, pieces: TokenPiece[]): void {
  const { text } = segment;
  if (text.length > onePiece) {
    for (const top of segment.statements) addPiecesOf(snapshot, segment, top, pieces);
    return;
  }
  const known = keptSegments.get(segment);
  if (known?.key === turn) {
    pieces.push({ segment, at: 0, text, tokens: known.tokens });
    return;
  }
  let key = turn;
  const tokens: Token[] = [];
  for (const top of segment.statements) {
    const around = aroundOf(snapshot, top);
    // What rests on another declaration is looked at each time.
    if (top.word.text === 'template' && top.items.length > 1) key = `${around.key} extends`;
    addTokens(tokens, top, top.offset, 'whole', 'file', around);
  }
  if (known?.key === key && key !== turn) {
    pieces.push({ segment, at: 0, text, tokens: known.tokens });
    return;
  }
  keptSegments.set(segment, { key, tokens });
  pieces.push({ segment, at: 0, text, tokens });
}

function addPiecesOf(snapshot: Snapshot, segment: Segment, top: Statement, pieces: TokenPiece[]): void {
  const around = aroundOf(snapshot, top);
  pieces.push({ segment, at: top.offset, text: top.text, tokens: tokensOf(top, 'head', 'file', around) });
  const inside = wordIn('file', top.word.text)?.block;
  const key = `whole ${inside} ${around.key}`;
  for (const child of top.block?.children ?? []) {
    const known = kept.get(child);
    const tokens = known?.key === key ? known.tokens : tokensOf(child, 'whole', inside, around, key);
    pieces.push({ segment, at: top.offset + child.offset, text: child.text, tokens });
  }
}

function turnOf({ project }: Snapshot): string {
  return `${project.names.turnOf('garment')} `;
}

function aroundOf(snapshot: Snapshot, top: Statement): Around {
  const { names } = snapshot.project;
  const parameters = new Set<string>();
  if (top.word.text === 'template') {
    addParameters(top, parameters);
    if (top.items.length > 1)
      for (const { statement } of lineageAt(snapshot, [top])) addParameters(statement, parameters);
  }
  return {
    parameters,
    isShipped: (garment) => {
      const found = names.find('garment', garment);
      return found !== undefined && found.home === names.starter;
    },
    key: turnOf(snapshot) + [...parameters].join(' '),
  };
}

function addParameters(template: Statement, to: Set<string>): void {
  for (const child of template.block?.children ?? []) {
    const name = child.word.text === 'parameter' && child.items[0];
    if (name && name.kind === 'path') to.add(name.words[0]?.text ?? '');
  }
}

function tokensOf(
  statement: Statement,
  extent: 'head' | 'whole',
  place: BlockPlace | undefined,
  around: Around,
  key = `${extent} ${place} ${around.key}`,
): readonly Token[] {
  const known = kept.get(statement);
  if (known?.key === key) return known.tokens;
  const tokens: Token[] = [];
  addTokens(tokens, statement, 0, extent, place, around);
  kept.set(statement, { key, tokens });
  return tokens;
}

function addTokens(
  tokens: Token[],
  statement: Statement,
  at: number,
  extent: 'head' | 'whole',
  place: BlockPlace | undefined,
  around: Around,
): void {
  const reading = readingOf(statement, place);
  addHead(tokens, statement, at, reading, place, around);
  if (extent === 'head') return;
  const inside = reading?.entry.block;
  for (const child of statement.block?.children ?? [])
    addTokens(tokens, child, at + child.offset, 'whole', inside, around);
}

/** In the block of an override, or where nothing is known of the block, the first place in which a statement fits. */
function readingOf(statement: Statement, place: BlockPlace | undefined): Reading | undefined {
  if (place !== undefined && place !== 'override' && place !== 'anything') return readingAt(statement, place);
  const readings = placesOf(statement.word.text)
    .filter((p) => p !== 'file' && p !== 'project')
    .flatMap((p) => readingAt(statement, p) ?? []);
  return readings.find(({ findings }) => findings.length === 0) ?? readings[0];
}

function addHead(
  tokens: Token[],
  statement: Statement,
  at: number,
  reading: Reading | undefined,
  place: BlockPlace | undefined,
  around: Around,
): void {
  const { word, items } = statement;
  let isWordTold = false;
  const add = (range: Range, type: TokenType, ...modifiers: TokenModifier[]): void => {
    // Half-typed, `zone * a` is a product whose first factor is the word itself, and `zone(` a call of it.
    if (range.start < word.end) {
      if (range !== word || isWordTold) return;
      isWordTold = true;
    }
    if (range.end > range.start) tokens.push({ start: at + range.start, end: at + range.end, type, modifiers });
  };
  if (reading) add(word, 'keyword');
  else if (word.text !== '' && (place === 'unit' || place === 'template-test' || place === 'anything'))
    add(word, 'parameter');
  const types = reading && slotTypes(reading);
  const literals = reading && new Set<Item>(reading.literals);
  for (const item of items) {
    const slot = types?.get(item);
    if (literals?.has(item)) add(item, isConstant(reading as Reading, item as Path) ? 'enumMember' : 'keyword');
    else if (slot) addSlot(item, slot.type, slot.name, reading as Reading);
    else if (reading) addItem(item, addLoose);
    else addItem(item, addGiven);
  }

  function addSlot(item: Item, type: SlotType, slot: string, { entry }: Reading): void {
    if (item.kind === 'path' && type.kind === 'name') {
      if (slot === 'name') add(item, namedBy(entry), entry.block ? 'definition' : 'declaration', ...constancy(entry));
      else add(item, 'variable');
    } else if (item.kind === 'path' && type.kind === 'type') add(item, 'type', 'defaultLibrary');
    else if (item.kind === 'path' && type.kind === 'label') add(item, 'string');
    else if (item.kind === 'path' && type.kind === 'ref') addReference(item, type.to);
    else addItem(item, type.kind === 'value' ? addGiven : addComputed);
  }

  function addItem(item: Item, addPath: (path: Path) => void): void {
    if (item.kind === 'text') add(item, 'string');
    else if (item.kind !== 'mark' && item.kind !== 'stray') addExpression(item, addPath);
  }

  function addExpression(e: Expression, addPath: (path: Path) => void): void {
    switch (e.kind) {
      case 'number':
        for (const part of e.parts) {
          const { unit } = part;
          const text = statement.text.slice(part.start, unit ? unit.start : part.end);
          add({ start: part.start, end: part.start + text.trimEnd().length }, 'number');
          if (unit) add(unit, 'unit');
        }
        break;
      case 'path':
        addPath(e);
        break;
      case 'negation':
        addExpression(e.operand, addPath);
        break;
      case 'group':
        addExpression(e.inner, addPath);
        break;
      case 'call':
        add(e.name, 'function', 'defaultLibrary');
        for (const arg of e.args) addExpression(arg, addPath);
        break;
      case 'binary':
        addExpression(e.left, addPath);
        addExpression(e.right, addPath);
        break;
    }
  }

  /** What is computed with: a parameter, or `back.length`. */
  function addComputed({ words }: Path): void {
    const [first, ...others] = words;
    if (first) add(first, others.length > 0 ? 'variable' : 'parameter', ...(others.length > 0 ? [] : readonly));
    for (const other of others) add(other, 'property', 'readonly');
  }

  /** A value whose type another statement gives: the name of a material, where it is a name. */
  function addGiven(path: Path): void {
    addMaterial(path.words);
  }

  /** What fits nothing of its phrase has no meaning to be coloured by. */
  function addLoose(path: Path): void {
    add(path, 'variable');
  }

  function addReference({ words }: Path, to: RefKind): void {
    const last = words.at(-1);
    if (!last) return;
    switch (to) {
      case 'board':
      case 'rod':
      case 'board-or-rod':
      case 'hardware':
      case 'garment':
        addMaterial(words);
        return;
      case 'rule':
      case 'limit':
        for (const one of words) add(one, 'enumMember', 'readonly', 'defaultLibrary');
        return;
      default: {
        for (const outer of words.slice(0, -1)) add(outer, 'namespace');
        add(last, references[to] ?? 'variable');
      }
    }
  }

  function addMaterial(words: readonly Word[]): void {
    const [first] = words;
    if (!first) return;
    if (words.length === 1) {
      if (around.parameters.has(first.text)) add(first, 'parameter', 'readonly');
      else add(first, 'type', ...(around.isShipped(first.text) ? (['defaultLibrary'] as const) : []));
      return;
    }
    for (const alias of words.slice(0, -1)) add(alias, 'namespace');
    add(words.at(-1) as Word, 'type');
  }
}

const readonly = ['readonly'] as const;

const references: Partial<Record<RefKind, TokenType>> = { template: 'class', policy: 'interface', zone: 'namespace' };

const declared: Readonly<Record<string, TokenType>> = {
  project: 'namespace',
  use: 'namespace',
  zone: 'namespace',
  gap: 'namespace',
  template: 'class',
  policy: 'interface',
  board: 'type',
  rod: 'type',
  hardware: 'type',
  garment: 'type',
  parameter: 'parameter',
};

/** A rod of a zone is a thing, and a rod of the project is a material. */
function namedBy({ word, places }: WordEntry): TokenType {
  const type = declared[word];
  return type === 'type' && !places.includes('file') ? 'variable' : (type ?? 'variable');
}

function constancy({ word }: WordEntry): readonly TokenModifier[] {
  return word === 'parameter' ? readonly : [];
}

function slotTypes(reading: Reading): Map<Item, { readonly name: string; readonly type: SlotType }> {
  const found = new Map<Item, { name: string; type: SlotType }>();
  for (const slot of slotsOf(reading.entry.phrase))
    for (const item of reading.slots[slot.name] ?? []) if (!found.has(item)) found.set(item, slot);
  return found;
}

const constants = new WeakMap<WordEntry, ReadonlySet<string>>();

/** `fill`, `left`: a word that is a value of its own, not one that connects. */
function isConstant({ entry }: Reading, { words }: Path): boolean {
  let own = constants.get(entry);
  if (!own) {
    const all = literalsWithin(entry.phrase);
    const connecting = new Set(all.filter((l) => !l.alone).map((l) => l.text));
    own = new Set(all.map((l) => l.text).filter((text) => !connecting.has(text)));
    constants.set(entry, own);
  }
  return own.has(words[0]?.text ?? '');
}
