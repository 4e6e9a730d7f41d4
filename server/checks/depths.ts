/** Depths: whether a board gives them, and whether they are what shelves mostly are. */
import type { Place } from '../../grammar/tree.ts';
import { addedFix } from '../model/edits.ts';
import { type Comparison, type Finding, type Fix, finding, type Related } from '../model/finding.ts';
import type { FittingLayout, PanelLayout, ShelfLayout } from '../model/layout.ts';
import type { Board } from '../model/materials.ts';
import { memo } from '../model/memo.ts';
import type { Rule } from '../model/rule.ts';
import { showLength } from '../model/show.ts';
import { inches, NONE, subtract, type Ticks } from '../model/ticks.ts';
import { type CheckInput, lacks, looked } from './check.ts';
import { both, capital, compared, fittingsOf, fromTemplate, nameOf } from './say.ts';
import { writeIn, writeLength } from './swings/fixes.ts';

export const depthNotInBoard: Rule = {
  id: 'depth-not-in-board',
  family: 'parts',
  title: 'A part has a depth that its board does not give',
  explanation:
    'Boards are planned by length, and a part has the depth of its board. A deeper part cannot be cut from it. A shallower one can where the board allows ripping, one strip from one board; otherwise no stock has this depth.',
  severity: 'error',
  quiet: 'anything',
  source: { kind: 'language' },
  comparison: 'depth of the part = depth of the board; where ripping is allowed, <= depth of the board',
};

export const depthUnusual: Rule = {
  id: 'depth-unusual',
  family: 'parts',
  title: 'A shelf is not as deep as shelves mostly are',
  explanation:
    'Shelves in closets are mostly 12in or 16in deep. Another depth is no mistake, but worth a look before boards are bought. ' +
    'Projects that show millimetres are not compared: the fact is one of the inch trade.',
  severity: 'note',
  quiet: 'anything',
  source: { kind: 'common-practice' },
  comparison: 'depth of the shelf = 12in or 16in',
};

type Deep = ShelfLayout | PanelLayout;

export function depthFindings(input: CheckInput): Finding[] {
  const parts = oneForEachDepth(input);
  const uncut = parts.filter((part) => !isInBoard(part, input));
  // Of what cannot be cut from its board nobody asks whether it is usual.
  const odd = parts.filter((part) => part.kind === 'shelf' && !isUsual(part, input) && !uncut.includes(part));
  return [
    ...saidTogether(uncut).flatMap((group) => notInBoard(told(group, input), input)),
    ...saidTogether(odd).flatMap((group) => unusual(told(group, input), input)),
  ];
}

/** Shelves of a row and panels of a pair come from one statement and share its depth: one of them stands for all. */
function oneForEachDepth({ layout }: CheckInput): (ShelfLayout | PanelLayout)[] {
  const seen = new Map<object, Set<string>>();
  const kept: (ShelfLayout | PanelLayout)[] = [];
  for (const fitting of fittingsOf(layout)) {
    // Without a board, and without a depth of its own, there is nothing to compare.
    if (fitting.kind === 'rod' || fitting.kind === 'drawers' || (!fitting.board && fitting.depth === 0)) continue;
    const key = `${fitting.zone} ${fitting.depth} ${fitting.board?.name ?? ''}`;
    const keys = seen.get(fitting.place.statement) ?? new Set();
    seen.set(fitting.place.statement, keys);
    if (keys.has(key)) continue;
    keys.add(key);
    kept.push(fitting);
  }
  return kept;
}

// Told once

/** What has its depth from one place and its board from one is told once, there; what says its own depth, by itself. */
function saidTogether(parts: readonly Deep[]): Deep[][] {
  const at = new Map<object, Map<string, Deep[]>>();
  for (const part of parts) {
    const by = memo(at, part.depthPlace?.statement ?? part, () => new Map<string, Deep[]>());
    memo(by, `${part.depth} ${part.board?.name ?? ''}`, (): Deep[] => []).push(part);
  }
  return [...at.values()].flatMap((by) => [...by.values()]);
}

/** One part or several, as they are spoken of. */
interface Told {
  readonly first: Deep;
  /** `Shelf "a.s" is`, `5 shelves and 2 panels are`. */
  readonly are: string;
  readonly it: 'it is' | 'they are';
  readonly what: string;
  readonly place: Place;
  readonly about: string | undefined;
  readonly others: readonly Related[];
}

/** Of so many places none is looked at in a list. */
const mostNamed = 4;

function told(group: readonly Deep[], { layout }: CheckInput): Told {
  const [first] = group as readonly [Deep];
  const { depthPlace, kind, path } = first;
  const isOne = (one: FittingLayout): one is Deep =>
    (one.kind === 'shelf' || one.kind === 'panel') &&
    one.depthPlace?.statement === depthPlace?.statement &&
    one.depth === first.depth &&
    one.board?.name === first.board?.name;
  const all = depthPlace ? fittingsOf(layout).filter(isOne) : [first];
  const are = `${capital(nameOf(first))} is`;
  if (!depthPlace || all.length < 2)
    return { first, are, it: 'it is', what: `the ${kind}`, place: depthPlace ?? first.place, about: path, others: [] };
  const more = all.length - mostNamed;
  const zones = new Set(all.map(({ zone }) => zone));
  return {
    first,
    are: `${both([...counted(all, 'shelf', 'shelves'), ...counted(all, 'panel', 'panels')])} are`,
    it: 'they are',
    what: 'them',
    place: depthPlace,
    about: zones.size === 1 ? first.zone : undefined,
    others: all.slice(0, mostNamed).map((one, i) => ({
      place: one.place,
      message: `${capital(nameOf(one))} is one of them${more > 0 && i === mostNamed - 1 ? `; and ${more} more` : ''}.`,
    })),
  };
}

function counted(all: readonly Deep[], kind: Deep['kind'], many: string): string[] {
  const count = all.filter((one) => one.kind === kind).length;
  return count === 0 ? [] : [`${count} ${count === 1 ? kind : many}`];
}

/** In the block of the part itself, or where its depth is said for all of them. */
function otherDepth({ first, others }: Told, depth: Ticks, { show }: CheckInput): Fix[] {
  if (!first.depthPlace) return writeLength(first, 'depth', first.depth, depth, 'down', show);
  const fixes = writeIn(first.depthPlace.statement, first.depth, depth, 'down', show);
  // It may be the depth of others that are right as they are.
  return others.length === 0 ? fixes.map((fix) => ({ ...fix, byHand: true })) : fixes;
}

// Of a board

function isInBoard(part: Deep, input: CheckInput): boolean {
  const { board } = part;
  if (board?.depth === undefined) {
    lacks(input, depthNotInBoard, part, board ? `the depth of board ${board.name}` : `the board of ${nameOf(part)}`);
    return true;
  }
  const holds = part.depth === board.depth || (part.depth < board.depth && board.ripping);
  return looked(input, depthNotInBoard, part, ofBoard(part, `"${part.path}"`, board), holds);
}

function ofBoard({ depth }: Deep, what: string, board: Board): Comparison {
  return compared(`depth of ${what}`, depth, board.ripping ? 'at most' : 'equal to', board.depth ?? NONE);
}

function notInBoard(said: Told, input: CheckInput): Finding[] {
  const { first, are, it, what, place } = said;
  const { board } = first;
  const { show } = input;
  if (board?.depth === undefined) return [];
  const tooDeep = first.depth > board.depth;
  const [depth, given] = [showLength(first.depth, show), showLength(board.depth, show)];
  const message = `${are} ${depth} deep, and board "${board.name}" is ${given}`;
  const isAlone = said.others.length === 0;
  return [
    finding(
      depthNotInBoard,
      place,
      tooDeep
        ? `${message}: ${it} ${showLength(subtract(first.depth, board.depth), show)} too deep to be cut from it.`
        : `${message} and may not be ripped: no stock has this depth.`,
      {
        ...whose(said),
        advice: tooDeep
          ? `Choose a deeper board, or make ${what} at most ${given} deep.`
          : `Make ${what} ${given} deep, or let the board allow it: \`ripping allowed\`.`,
        related: [
          {
            place: board.place,
            message: `Board "${board.name}" is ${given} deep${board.ripping ? '' : ' and may not be ripped'}.`,
          },
          ...said.others,
        ],
        comparison: ofBoard(first, isAlone ? `"${first.path}"` : `these ${said.are.replace(/ are$/, '')}`, board),
        fixes: [
          ...otherDepth(said, board.depth, input),
          ...(tooDeep || board.ripping ? [] : addedFix(board.place.statement, 'ripping allowed', { byHand: true })),
        ],
      },
    ),
  ];
}

function whose({ about }: Told): Pick<Finding, 'about' | 'causes'> {
  return { causes: fromTemplate, ...(about !== undefined && { about }) };
}

// Of the trade

const usual = [inches(12), inches(16)] as const;

function nearestUsual({ depth }: Deep): Ticks {
  return Math.abs(depth - usual[0]) <= Math.abs(depth - usual[1]) ? usual[0] : usual[1];
}

function isUsual(shelf: Deep, input: CheckInput): boolean {
  if (input.show.system !== 'inches') return true;
  const near = nearestUsual(shelf);
  return looked(
    input,
    depthUnusual,
    shelf,
    compared(`depth of "${shelf.path}"`, shelf.depth, 'equal to', near),
    shelf.depth === near,
  );
}

function unusual(said: Told, input: CheckInput): Finding[] {
  const { first, are, place } = said;
  const { show } = input;
  const depths = usual.map((depth) => showLength(depth, show)).join(' or ');
  const isAlone = said.others.length === 0;
  return [
    finding(depthUnusual, place, `${are} ${showLength(first.depth, show)} deep; shelves are mostly ${depths} deep.`, {
      ...whose(said),
      advice: 'See that a board of this depth can be had.',
      related: said.others,
      comparison: compared(
        `depth of ${isAlone ? `"${first.path}"` : `these ${said.are.replace(/ are$/, '')}`}`,
        first.depth,
        'equal to',
        nearestUsual(first),
      ),
      // No mistake: whoever draws the shelf decides how deep it is.
      fixes: usual.flatMap((depth) => otherDepth(said, depth, input)).map((fix) => ({ ...fix, byHand: true })),
    }),
  ];
}
