/**
 * Phrases: what may follow a statement's first word. A phrase is written as the reference shows it,
 *
 *   <name:name> on <wall:ref wall> [after <after:ref zone> [by <gap:length>]]
 *   (fill | share [<weight:count>] | <value:length>)
 *   <garments:ref garment>...            one or more, with commas between
 *
 * and compiled to a small matcher that binds slots to the items of a statement and, where they do not
 * match, says what could have stood at the first item that fits nothing.
 */
import type { Dimension } from '../../grammar/measures.ts';
import type { Expression, Item, Path, Range } from '../../grammar/tree.ts';

export type RefKind =
  | 'board'
  | 'rod'
  | 'board-or-rod'
  | 'hardware'
  | 'garment'
  | 'policy'
  | 'template'
  | 'unit'
  | 'wall'
  | 'opening'
  | 'zone'
  | 'fitting'
  | 'thing'
  | 'rule'
  | 'limit';

export type SlotType =
  | { readonly kind: 'name' }
  | { readonly kind: 'text' }
  /** A word or a text or a number, as a label; a whole number may have a minus in front: a floor below the ground. */
  | { readonly kind: 'label' }
  | { readonly kind: 'quantity'; readonly dimension: Dimension }
  /** An expression whose type another statement gives (an argument). */
  | { readonly kind: 'value' }
  | { readonly kind: 'type' }
  | { readonly kind: 'ref'; readonly to: RefKind };

type Node =
  | { readonly kind: 'literal'; readonly text: string }
  | { readonly kind: 'slot'; readonly name: string; readonly type: SlotType; readonly list: boolean }
  | { readonly kind: 'sequence'; readonly parts: readonly Node[] }
  | { readonly kind: 'optional'; readonly part: Node }
  | { readonly kind: 'choice'; readonly parts: readonly Node[] };

export interface Phrase {
  readonly notation: string;
  readonly node: Node;
}

/** What may stand at a place in a phrase. */
export type Expected =
  | { readonly kind: 'literal'; readonly text: string }
  | { readonly kind: 'slot'; readonly name: string; readonly type: SlotType }
  | { readonly kind: 'end' };

export interface Bindings {
  readonly [slot: string]: readonly Item[];
}

export interface Match {
  readonly slots: Bindings;
  /** The items that were matched as literals of the language. */
  readonly literals: readonly Path[];
}

export interface Mismatch {
  /** Index of the first item that fits nothing; items.length where the phrase goes on. */
  readonly at: number;
  readonly expected: readonly Expected[];
  /** What was bound before. */
  readonly slots: Bindings;
  readonly literals: readonly Path[];
}

const dimensions: ReadonlySet<string> = new Set<Dimension>([
  'length',
  'mass',
  'force',
  'area-load',
  'line-load',
  'area-mass',
  'line-mass',
  'stiffness',
  'angle',
  'time',
  'share',
  'money',
  'count',
]);

/** The notation for people who write with it: without the types of its slots. */
export function shownPhrase({ notation }: Phrase): string {
  return notation.replace(/<([^:>]+):[^>]*>/g, (_, name: string) => `<${shownSlot(name)}>`);
}

/** `atLeast` as `at-least`; slots for one thing in two alternatives are told apart by a digit, which is left out. */
export function shownSlot(name: string): string {
  return name.replace(/\d+$/, '').replace(/[A-Z]/g, (capital) => `-${capital.toLowerCase()}`);
}

/** Compiles a phrase notation. Throws on a slip in the notation, which is ours. */
export function phrase(notation: string): Phrase {
  const tokens = notation.match(/<[^>]*>(?:\.\.\.)?|[[\]()|]|[^\s[\]()|<>]+/g) ?? [];
  let at = 0;
  const sequence = (until: readonly string[]): Node => {
    const choices: Node[][] = [[]];
    while (at < tokens.length && !until.includes(tokens[at] as string)) {
      const token = tokens[at++] as string;
      const current = choices.at(-1) as Node[];
      if (token === '[') {
        current.push({ kind: 'optional', part: sequence([']']) });
        at++;
      } else if (token === '(') {
        current.push(sequence([')']));
        at++;
      } else if (token === '|') choices.push([]);
      else if (token.startsWith('<')) current.push(slot(token));
      else current.push({ kind: 'literal', text: token });
    }
    const nodes = choices.map((parts): Node => (parts.length === 1 ? (parts[0] as Node) : { kind: 'sequence', parts }));
    return nodes.length === 1 ? (nodes[0] as Node) : { kind: 'choice', parts: nodes };
  };
  const node = sequence([]);
  if (at !== tokens.length) throw new Error(`unbalanced phrase: ${notation}`);
  return { notation, node };
}

function slot(token: string): Node {
  const list = token.endsWith('...');
  const inner = token.replace(/^</, '').replace(/>(\.\.\.)?$/, '');
  const [name = '', type = ''] = inner.split(':');
  return { kind: 'slot', name, type: slotType(type), list };
}

function slotType(type: string): SlotType {
  if (type === 'name' || type === 'text' || type === 'label' || type === 'value' || type === 'type')
    return { kind: type };
  if (type.startsWith('ref ')) return { kind: 'ref', to: type.slice(4) as RefKind };
  if (dimensions.has(type)) return { kind: 'quantity', dimension: type as Dimension };
  throw new Error(`unknown slot type: ${type}`);
}

interface State {
  readonly at: number;
  readonly slots: Bindings;
  readonly literals: readonly Path[];
}

/** Matches the items of a statement against its phrase. */
export function matchPhrase({ node }: Phrase, items: readonly Item[]): Match | Mismatch {
  let furthest: { at: number; slots: Bindings; literals: readonly Path[]; expected: Expected[] } = {
    at: -1,
    slots: {},
    literals: [],
    expected: [],
  };
  const fail = (state: State, expected: Expected): void => {
    if (state.at > furthest.at) furthest = { ...state, expected: [] };
    if (state.at === furthest.at && !furthest.expected.some((e) => sameExpected(e, expected)))
      furthest.expected.push(expected);
  };
  let result: State | undefined;
  run(node, { at: 0, slots: {}, literals: [] }, items, fail, (state) => {
    if (state.at === items.length) {
      result = state;
      return true;
    }
    fail(state, { kind: 'end' });
    return false;
  });
  return result ? { slots: result.slots, literals: result.literals } : furthest;
}

export function isMatch(result: Match | Mismatch): result is Match {
  return !('at' in result);
}

/**
 * What may stand behind `items`, which are all there is so far. Of several ways to read them, those with the most words of
 * the language count: `deflection shelf` is not yet about a value that is called `shelf`.
 */
export function expectedAfter(
  p: Phrase,
  items: readonly Item[],
): { readonly expected: readonly Expected[]; readonly slots: Bindings } {
  const expected: Expected[] = [];
  let slots: Bindings = {};
  let most = 0;
  const add = ({ slots: bound, literals }: State, e: Expected): void => {
    if (literals.length < most) return;
    if (literals.length > most) expected.length = 0;
    most = literals.length;
    slots = bound;
    if (!expected.some((known) => sameExpected(known, e))) expected.push(e);
  };
  run(
    p.node,
    { at: 0, slots: {}, literals: [] },
    items,
    (state, e) => {
      if (state.at === items.length) add(state, e);
    },
    (state) => {
      if (state.at === items.length) add(state, { kind: 'end' });
      return false;
    },
  );
  return { expected, slots };
}

/** Backtracking in continuation style: `next` answers true to stop. */
function run(
  node: Node,
  state: State,
  items: readonly Item[],
  fail: (s: State, e: Expected) => void,
  next: (s: State) => boolean,
): boolean {
  switch (node.kind) {
    case 'literal': {
      const item = items[state.at];
      if (item && isLiteral(item, node.text)) {
        const literals = item.kind === 'path' ? [...state.literals, item] : state.literals;
        return next({ at: state.at + 1, slots: state.slots, literals });
      }
      fail(state, { kind: 'literal', text: node.text });
      return false;
    }
    case 'slot':
      return runSlot(node, state, items, fail, next);
    case 'sequence': {
      const step = (i: number, s: State): boolean => {
        const part = node.parts[i];
        return part ? run(part, s, items, fail, (after) => step(i + 1, after)) : next(s);
      };
      return step(0, state);
    }
    case 'optional':
      return run(node.part, state, items, fail, next) || next(state);
    case 'choice':
      return node.parts.some((part) => run(part, state, items, fail, next));
  }
}

function runSlot(
  node: Extract<Node, { kind: 'slot' }>,
  state: State,
  items: readonly Item[],
  fail: (s: State, e: Expected) => void,
  next: (s: State) => boolean,
): boolean {
  const expected: Expected = { kind: 'slot', name: node.name, type: node.type };
  let taken: Item[] | undefined;
  let at = state.at;
  for (;;) {
    const item = items[at];
    if (!item || !fits(node.type, item)) {
      fail({ ...state, at, slots: { ...state.slots, [node.name]: taken ?? [] } }, expected);
      return false;
    }
    // Mostly it is one, and is kept as long as its statement: a list that is pushed to has room for sixteen.
    if (taken) taken.push(item);
    else taken = [item];
    at++;
    const comma = items[at];
    if (!node.list || comma?.kind !== 'mark' || comma.text !== ',') break;
    at++;
  }
  return next({ at, slots: { ...state.slots, [node.name]: taken }, literals: state.literals });
}

function isLiteral(item: Item, text: string): boolean {
  if (item.kind === 'mark') return item.text === text;
  return item.kind === 'path' && item.words.length === 1 && item.words[0]?.text === text;
}

function fits(type: SlotType, item: Item): boolean {
  switch (type.kind) {
    case 'name':
    case 'type':
      return item.kind === 'path' && item.words.length === 1;
    case 'ref':
      return item.kind === 'path';
    case 'text':
      return item.kind === 'text';
    case 'label':
      return (
        item.kind === 'text' ||
        item.kind === 'number' ||
        (item.kind === 'path' && item.words.length === 1) ||
        (item.kind === 'negation' && item.operand.kind === 'number' && /^\d+$/.test(item.operand.raw))
      );
    case 'quantity':
      return isExpression(item);
    case 'value':
      return isExpression(item) || item.kind === 'text';
  }
}

export function isExpression(item: Item | undefined): item is Expression {
  return item !== undefined && item.kind !== 'text' && item.kind !== 'mark' && item.kind !== 'stray';
}

function sameExpected(a: Expected, b: Expected): boolean {
  if (a.kind === 'literal') return b.kind === 'literal' && a.text === b.text;
  if (a.kind === 'slot') return b.kind === 'slot' && a.name === b.name;
  return a.kind === b.kind;
}

/** All the literal words of a phrase, for highlighting and completion. */
export function literalsOf(p: Phrase): string[] {
  const found: string[] = [];
  const visit = (node: Node): void => {
    if (node.kind === 'literal') found.push(node.text);
    else if (node.kind === 'optional') visit(node.part);
    else if (node.kind === 'sequence' || node.kind === 'choice') node.parts.forEach(visit);
  };
  visit(p.node);
  return found;
}

/** The literals of a phrase; `alone` where one is a whole alternative, as a value of its own. */
export function literalsWithin(
  { node }: Pick<Phrase, 'node'>,
  alone = false,
): { readonly text: string; readonly alone: boolean }[] {
  switch (node.kind) {
    case 'literal':
      return [{ text: node.text, alone }];
    case 'slot':
      return [];
    case 'optional':
      return literalsWithin({ node: node.part });
    case 'sequence':
      return node.parts.flatMap((part) => literalsWithin({ node: part }));
    case 'choice':
      return node.parts.flatMap((part) => literalsWithin({ node: part }, true));
  }
}

export function slotsOf(p: Phrase): { readonly name: string; readonly type: SlotType; readonly list: boolean }[] {
  const found: { name: string; type: SlotType; list: boolean }[] = [];
  const visit = (node: Node): void => {
    if (node.kind === 'slot') found.push({ name: node.name, type: node.type, list: node.list });
    else if (node.kind === 'optional') visit(node.part);
    else if (node.kind === 'sequence' || node.kind === 'choice') node.parts.forEach(visit);
  };
  visit(p.node);
  return found;
}

/** `a length (in, ft, mm, cm, m)`, `the name of a board`: for messages and the reference. */
export function describeType(type: SlotType): string {
  switch (type.kind) {
    case 'name':
      return 'a name of your own';
    case 'text':
      return 'a text in quotation marks';
    case 'label':
      return 'a name, a number or a text';
    case 'type':
      return 'a type';
    case 'value':
      return 'a value';
    case 'quantity':
      return dimensionName(type.dimension);
    case 'ref':
      return refName(type.to);
  }
}

function refName(to: RefKind): string {
  if (to === 'board-or-rod') return 'the name of a board or rod';
  if (to === 'thing') return 'the path of a thing (unit.zone.fitting)';
  if (to === 'rule') return 'the id of a rule';
  if (to === 'opening') return 'the name of an opening';
  return `the name of a ${to}`;
}

export function dimensionName(dimension: Dimension): string {
  const names: Record<Dimension, string> = {
    length: 'a length',
    mass: 'a mass',
    force: 'a force',
    'area-load': 'a load on an area',
    'line-load': 'a load along a length',
    'area-mass': 'a mass per area',
    'line-mass': 'a mass per length',
    stiffness: 'a stiffness',
    angle: 'an angle',
    time: 'a time',
    share: 'a share',
    money: 'an amount of money',
    count: 'a count',
  };
  return names[dimension];
}

export function describeExpected(expected: Expected): string {
  if (expected.kind === 'literal') return `"${expected.text}"`;
  if (expected.kind === 'end') return 'the end of the statement';
  return describeType(expected.type);
}

export function rangeOfItems(items: readonly Item[]): Range | undefined {
  const first = items[0];
  const last = items.at(-1);
  return first && last ? { start: first.start, end: last.end } : undefined;
}
