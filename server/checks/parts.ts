/** Depths: whether a board gives them, and whether they are what shelves mostly are. */
import { type Place, placeOf } from '../../grammar/tree.ts';
import { addedFix, written } from '../model/edits.ts';
import type { Comparison, Finding, Fix } from '../model/finding.ts';
import type { PanelLayout, ShelfLayout } from '../model/layout.ts';
import { nearest } from '../model/nearest.ts';
import type { Rule } from '../model/rule.ts';
import { showLength } from '../model/show.ts';
import { inches, subtract } from '../model/ticks.ts';
import { type Check, type CheckInput, lacks, looked } from './check.ts';
import { about, capital, compared, fittingsOf, nameOf, verb } from './say.ts';
import { writeLength } from './swings/fixes.ts';

export const depthNotInBoard: Rule = {
  id: 'depth-not-in-board',
  family: 'parts',
  title: 'A part has a depth that its board does not give',
  explanation:
    'Boards are planned by length, and a part has the depth of its board. A deeper part cannot be cut from it. A shallower one can where the board allows ripping, one strip from one board; otherwise no stock has this depth.',
  severity: 'error',
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
  source: { kind: 'common-practice' },
  comparison: 'depth of the shelf = 12in or 16in',
};

export const matchedAlone: Rule = {
  id: 'matched-alone',
  family: 'parts',
  title: 'A matched set has one part only',
  explanation:
    'Parts of one unit with the same set name are cut from one board. A name that only one part of a unit carries changes nothing: it may be misspelt, or the other part may be missing.',
  severity: 'note',
  source: { kind: 'language' },
  comparison: 'parts of the unit with the name >= 2',
};

export const partCheck: Check = {
  rules: [depthNotInBoard, depthUnusual, matchedAlone],
  run: (input) => {
    const found: Finding[] = [];
    for (const part of oneForEachDepth(input)) {
      found.push(...notInBoard(part, input));
      if (part.kind === 'shelf') found.push(...unusual(part, input));
    }
    return [...found, ...alone(input)];
  },
};

/** Names that one part carries, with the other names of the unit, one of which may have been meant. */
function alone(input: CheckInput): Finding[] {
  const { layout } = input;
  const sets = Map.groupBy(
    layout.parts.filter(({ matched }) => matched),
    ({ matched }) => matched?.set ?? '',
  );
  return [...sets].flatMap(([set, parts]): Finding[] => {
    const [part] = parts;
    const fitting = part && [...fittingsOf(layout)].find(({ path }) => path === part.path);
    if (!part?.matched || !fitting) return [];
    const comparison: Comparison = {
      what: `parts of matched set "${set}"`,
      measured: { count: parts.length },
      relation: 'at least',
      limit: { count: 2 },
    };
    if (looked(input, matchedAlone, fitting, comparison, parts.length > 1)) return [];
    const meant = nearest(
      set,
      [...sets.keys()].filter((other) => other !== set),
    );
    return [
      about(
        matchedAlone,
        fitting,
        part.matched.place,
        `${capital(nameOf(fitting))} ${verb(fitting, 'is', 'are')} the only part of matched set "${set}", so that it may come from any board.`,
        {
          advice:
            meant === undefined
              ? 'Give the parts that it has to match the same name.'
              : `Give the parts that it has to match the same name; did you mean "${meant}"?`,
          comparison,
          fixes: meant === undefined ? [] : renamed(part.matched.place, meant),
        },
      ),
    ];
  });
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

function notInBoard(part: ShelfLayout | PanelLayout, input: CheckInput): Finding[] {
  const { board } = part;
  const { show } = input;
  if (board?.depth === undefined) {
    lacks(input, depthNotInBoard, part, board ? `the depth of board ${board.name}` : `the board of ${nameOf(part)}`);
    return [];
  }
  const tooDeep = part.depth > board.depth;
  const relation = board.ripping ? 'at most' : 'equal to';
  const comparison = compared(`depth of "${part.path}"`, part.depth, relation, board.depth);
  const holds = part.depth === board.depth || (!tooDeep && board.ripping);
  if (looked(input, depthNotInBoard, part, comparison, holds)) return [];
  const [depth, given] = [showLength(part.depth, show), showLength(board.depth, show)];
  const told = `${capital(nameOf(part))} is ${depth} deep, and board "${board.name}" is ${given}`;
  return [
    about(
      depthNotInBoard,
      part,
      part.place,
      tooDeep
        ? `${told}: it is ${showLength(subtract(part.depth, board.depth), show)} too deep to be cut from it.`
        : `${told} and may not be ripped: no stock has this depth.`,
      {
        advice: tooDeep
          ? `Choose a deeper board, or make the ${part.kind} at most ${given} deep.`
          : `Make the ${part.kind} ${given} deep, or let the board allow it: \`ripping allowed\`.`,
        related: [
          {
            place: board.place,
            message: `Board "${board.name}" is ${given} deep${board.ripping ? '' : ' and may not be ripped'}.`,
          },
        ],
        comparison,
        fixes: [
          ...writeLength(part, 'depth', part.depth, board.depth, 'down', show),
          ...(tooDeep || board.ripping ? [] : addedFix(board.place.statement, 'ripping allowed', { byHand: true })),
        ],
      },
    ),
  ];
}

/** The name in `matched fronts`. */
function renamed({ statement }: Place, name: string): Fix[] {
  const [item] = statement.items;
  return statement.word.text === 'matched' && item ? [written(placeOf(statement, item), name)] : [];
}

const usual = [inches(12), inches(16)] as const;

function unusual(shelf: ShelfLayout, input: CheckInput): Finding[] {
  const { show } = input;
  if (show.system !== 'inches') return [];
  const nearest = Math.abs(shelf.depth - usual[0]) <= Math.abs(shelf.depth - usual[1]) ? usual[0] : usual[1];
  const comparison = compared(`depth of "${shelf.path}"`, shelf.depth, 'equal to', nearest);
  if (looked(input, depthUnusual, shelf, comparison, shelf.depth === nearest)) return [];
  return [
    about(
      depthUnusual,
      shelf,
      shelf.place,
      `${capital(nameOf(shelf))} is ${showLength(shelf.depth, show)} deep; shelves are mostly ${usual.map((depth) => showLength(depth, show)).join(' or ')} deep.`,
      {
        advice: 'See that a board of this depth can be had.',
        comparison,
        // No mistake: whoever draws the shelf decides how deep it is.
        fixes: usual
          .flatMap((depth) => writeLength(shelf, 'depth', shelf.depth, depth, 'down', show))
          .map((fix) => ({ ...fix, byHand: true })),
      },
    ),
  ];
}
