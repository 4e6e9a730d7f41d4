/** How high everything in a zone stands, or why it cannot. */
import { capital } from './capital.ts';
import { closingFixes } from './closing.ts';
import { cannotHold, comesRound, heightThatIsOut, moved, writtenLast } from './conflicts.ts';
import { settled } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { type HeightsResult, placeHeights } from './heights.ts';
import type { Range } from './layout.ts';
import type { InZone } from './openings.ts';
import { turnedFinding, turnedRows } from './rows.ts';
import * as rules from './rules.ts';
import { type Show, showLength, showRange } from './show.ts';
import type { Defaults, Dim, DrawersSpec, FittingSpec, ShelfSpec, ZoneSpec } from './spec.ts';
import { NONE, type Ticks, ticks } from './ticks.ts';

/** The height of every fitting of a zone by its name; none where they cannot all hold, which is told. */
export function heightsIn(
  spec: ZoneSpec,
  defaults: Defaults,
  { layout, wall, show }: Pick<InZone, 'layout' | 'wall' | 'show'>,
  report: (f: Finding) => void,
): ReadonlyMap<string, Range> {
  const ceiling =
    layout.height === undefined
      ? undefined
      : { value: layout.height, place: layout.heightPlace ?? wall.place, parameters: wall.height?.parameters ?? [] };
  const result = placedUp(spec, ceiling, defaults, show, report);
  if (result.kind === 'conflict') {
    const said = result.labels.filter((l) => l.role !== 'start');
    const shown = said.length > 0 ? said : result.labels;
    const at = writtenLast(shown) ?? shown[0];
    const round = at && comesRound(shown, at);
    if (round) {
      report(round);
      return new Map();
    }
    report(
      finding(
        rules.heightsConflict,
        at?.place ?? spec.place,
        cannotHold(shown, result, show, ` in zone ${spec.path}`),
        {
          advice: moved(result.labels, result, show),
          related: result.labels
            .filter((l) => l !== at)
            .map((l) => ({ place: l.place, message: `${capital(l.text)}.` })),
          fixes: closingFixes(result.weights, result.excess, 'at', show),
          about: spec.path,
          causes: { parameters: [...new Set(result.labels.flatMap((l) => l.parameters))], survey: false },
          comparison: {
            what: `${heightThatIsOut(result.labels, result.weights)} in zone ${spec.path}`,
            measured: { ticks: result.excess },
            relation: 'at most',
            limit: { ticks: NONE },
          },
        },
      ),
    );
    return new Map();
  }
  for (const f of spec.fittings) {
    const range = result.at.get(f.name);
    if (!range || range.least === range.most) continue;
    const place = 'heights' in f ? (f.heights[0]?.place ?? f.place) : f.place;
    report(
      finding(
        rules.heightLoose,
        place,
        `${f.kind === 'rod' ? 'Rod' : f.kind === 'drawers' ? 'Drawers' : 'Shelf'} "${spec.path}.${f.name}" can be at ${showRange(range.least, range.most, show)}; ${showLength(range.value, show)} is taken.`,
        {
          about: `${spec.path}.${f.name}`,
          advice: `Write \`at ${showLength(range.value, show)}\`, or leave it open for a survey to settle.`,
          fixes: settled(place, `at ${showLength(range.value, show)}`),
        },
      ),
    );
  }
  return result.at;
}

/** Where everything stands; rows with their ends the wrong way round are told of, and turned. */
function placedUp(
  spec: ZoneSpec,
  ceiling: Dim | undefined,
  defaults: Defaults,
  show: Show,
  report: (f: Finding) => void,
): HeightsResult {
  const place = (fittings: readonly FittingSpec[]) =>
    placeHeights(fittings, ceiling, (standing) => tallness(standing, defaults), show);
  const result = place(spec.fittings);
  if (result.kind === 'placed') return result;
  const turned = turnedRows(spec.fittings, result.labels);
  if (turned.rows.length === 0) return result;
  const instead = place(turned.fittings);
  if (instead.kind === 'conflict') return result;
  for (const row of turned.rows) report(turnedFinding(row, instead.at, spec.path, show));
  return instead;
}

/** From the datum of what stands there to its upper face. */
export function tallness(f: ShelfSpec | DrawersSpec, defaults: Defaults): Ticks {
  return f.kind === 'drawers' ? stackOf(f) : ((f.board ?? defaults.board)?.thickness ?? NONE);
}

/** Height of a stack of drawers. */
export function stackOf(f: DrawersSpec): Ticks {
  return ticks(f.count * (f.each?.value ?? NONE));
}
