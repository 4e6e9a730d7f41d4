/** Parts: depths, and matched sets of one part. */
import { type Place, placeOf } from '../../grammar/tree.ts';
import { written } from '../model/edits.ts';
import type { Comparison, Finding, Fix } from '../model/finding.ts';
import { nearest } from '../model/nearest.ts';
import type { Rule } from '../model/rule.ts';
import { type Check, type CheckInput, looked } from './check.ts';
import { depthFindings, depthNotInBoard, depthUnusual } from './depths.ts';
import { about, capital, fittingsOf, nameOf, verb } from './say.ts';

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
  run: (input) => [...depthFindings(input), ...alone(input)],
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

/** The name in `matched fronts`. */
function renamed({ statement }: Place, name: string): Fix[] {
  const [item] = statement.items;
  return statement.word.text === 'matched' && item ? [written(placeOf(statement, item), name)] : [];
}
