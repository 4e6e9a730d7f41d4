/** Why zones cannot be placed along a run, as a finding. */

import { offsetOf, placeOf } from '../../grammar/tree.ts';
import { capital } from './capital.ts';
import { closingFixes, type Weights } from './closing.ts';
import { type Along, bothBegin, startsTogether } from './conflicts-start.ts';
import { compareInText, type Finding, type Fix, finding } from './finding.ts';
import type { WallLayout } from './layout.ts';
import * as rules from './rules.ts';
import type { RunResult } from './run.ts';
import type { Label } from './run-labels.ts';
import { type Show, showLength } from './show.ts';
import type { ZoneSpec } from './spec.ts';
import { NONE } from './ticks.ts';
import { listAnd, listOr } from './word-lists.ts';

type Conflict = Extract<RunResult, { kind: 'conflict' }>;

/** The finding for a run that cannot be placed. `closesAsDrawn` is the wall's layout where only the survey breaks it. */
export function failure(
  result: Exclude<RunResult, { kind: 'placed' }>,
  wall: Along & { readonly place: Finding['place'] },
  closesAsDrawn: WallLayout | undefined,
  surveyed: boolean,
  show: Show,
): Finding {
  switch (result.kind) {
    case 'tangled': {
      const names = result.zones.map((z) => `"${z.path}"`);
      const [first, ...others] = result.zones as [ZoneSpec, ...ZoneSpec[]];
      const related = others.map((z) => ({ place: z.place, message: `Zone "${z.path}" is one of them.` }));
      return result.reason === 'circle'
        ? finding(
            rules.nameCircle,
            first.place,
            `Zones ${listAnd(names)} each stand beside another one of them, so that none of them begins anywhere.`,
            { related, advice: 'Give one of them a start of its own.' },
          )
        : finding(
            rules.widthsConflict,
            (others[0] ?? first).place,
            `Zones ${listAnd(names)} stand on the same side of one zone.`,
            {
              related: [{ place: first.place, message: `Zone "${first.path}" stands there.` }],
              advice: 'Put one after the other.',
            },
          );
    }
    case 'together': {
      const [first, second] = result.zones;
      const said = bothBegin([first.place.statement, second.place.statement], wall);
      if (said) return said;
      return finding(
        rules.widthsConflict,
        second.place,
        `Zones "${first.path}" and "${second.path}" both begin at the left end of ${wall.said}.`,
        {
          advice: 'Write of one of them after which zone it stands, or how far from the end.',
          related: [{ place: first.place, message: `Zone "${first.path}" begins there too.` }],
          about: wall.name,
        },
      );
    }
    case 'undecided': {
      // As they are written, whichever way round the unit is built.
      const [first, second] = result.zones.toSorted((a, b) => compareInText(a.place, b.place)) as [ZoneSpec, ZoneSpec];
      const kinds =
        result.chains === 'two' || first.width?.kind === second.width?.kind
          ? 'both take what is left'
          : 'cannot both take what is left';
      return finding(
        rules.undecided,
        second.width?.place ?? second.place,
        `Zones "${first.path}" and "${second.path}" ${kinds}, and nothing says how they share it.`,
        {
          advice:
            result.chains === 'one'
              ? 'Write "width share" in each for equal shares, or give one of them a width.'
              : 'Give one of them a width, or put its zones into one chain with the others by "after" or "before".',
          fixes: result.chains === 'one' ? sharing(first, second) : [],
          related: [
            { place: first.width?.place ?? first.place, message: `Zone "${first.path}" takes what is left here.` },
          ],
        },
      );
    }
    case 'unsettled': {
      const [first, ...others] = result.zones;
      const names = listAnd(result.zones.slice(0, mostNamed).map((z) => `"${z.path}"`));
      const more = result.zones.length > mostNamed ? `, and ${result.zones.length - mostNamed} more,` : '';
      return finding(
        rules.undecided,
        first?.place ?? wall.place,
        `How zones ${names}${more} share ${wall.said} could not be worked out: their shares hang together in more ways than are tried.`,
        {
          advice: 'Give one of them a width, or let one begin at an end or after another one.',
          related: others.map((z) => ({ place: z.place, message: `Zone "${z.path}" is one of them.` })),
          about: wall.name,
        },
      );
    }
    case 'conflict': {
      const labels = uniqueLabels(result.labels);
      const together = closesAsDrawn ? undefined : startsTogether(labels, wall, result.excess);
      if (together) return together;
      // Where the length of the wall takes no part, it is where they stand that cannot be.
      const isAlong = labels.some((l) => l.role === 'length');
      const said = labels.filter((l) => l.role !== 'start' || !isAlong);
      const at = writtenLast(said) ?? labels[0];
      const parameters = [...new Set(labels.flatMap((l) => l.parameters))];
      const rule = closesAsDrawn ? rules.surveyNarrower : rules.widthsConflict;
      const drawn = closesAsDrawn ? ` It fits on the ${showLength(closesAsDrawn.nominal, show)} drawn.` : '';
      return finding(
        rule,
        (closesAsDrawn ? closesAsDrawn.lengthPlace : at?.place) ?? wall.place,
        `${cannotHold(said.length > 0 ? said : labels, result, show)}${drawn}`,
        {
          advice: `${narrower(labels, result, show)}${closesAsDrawn ? ', in this unit alone, with an override' : ''}.`,
          related: labels
            .filter((l) => (closesAsDrawn ? l.role !== 'length' : l !== at))
            .map((l) => ({ place: l.place, message: `${capital(l.text)}.` })),
          // As drawn it closes: what the survey of one unit says is no reason to change the template of all.
          fixes: closesAsDrawn ? [] : closingFixes(result.weights, result.excess, 'width', show),
          about: wall.name,
          causes: { parameters, survey: surveyed },
          comparison: {
            what: `width ${taken(labels, result.weights) < 0 ? 'that nothing takes' : 'that is lacking'} along ${wall.said}`,
            measured: { ticks: result.excess },
            relation: 'at most',
            limit: { ticks: NONE },
          },
        },
      );
    }
  }
}

/** A conflict sits on the last of its statements that could be changed; the earlier ones were there before it. */
export function writtenLast(labels: readonly Label[]): Label | undefined {
  const own = labels.filter((l) => l.role === 'width');
  return own.reduce<Label | undefined>(
    (last, l) => (last && offsetOf(last.place.statement) > offsetOf(l.place.statement) ? last : l),
    undefined,
  );
}

/** Both say `fill` and nothing else: both share. */
function sharing(...zones: readonly ZoneSpec[]): Fix[] {
  const fills = zones.map(({ width }) => width?.place.statement.items[0]);
  const edits = zones.flatMap(({ width }, i) => {
    const item = fills[i];
    if (item?.kind !== 'path' || item.words[0]?.text !== 'fill' || !width) return [];
    return [{ place: placeOf(width.place.statement, item), text: 'share' }];
  });
  return edits.length === zones.length ? [{ title: 'Write "width share" in both', edits }] : [];
}

function uniqueLabels(labels: readonly Label[]): Label[] {
  return [...new Map(labels.map((l) => [l.text, l])).values()];
}

/** Fittings that are placed from one another in a circle: whatever the distances are, no move mends that. */
export function comesRound(labels: readonly Label[], at: Label): Finding | undefined {
  const orders = labels.flatMap(({ order }) => (order ? [order] : []));
  const lower = new Set(orders.map(([one]) => one));
  const upper = new Set(orders.map(([, other]) => other));
  const isRound = lower.size === upper.size && [...lower].every((one) => upper.has(one));
  if (orders.length < labels.length || !isRound) return undefined;
  const said = labels.map(({ text }) => text).join('; ');
  return finding(
    rules.nameCircle,
    at.place,
    labels.length === 1
      ? `${capital(said)}: nothing is placed from itself.`
      : `Each of these stands under another one of them, so that none of them is anywhere: ${said}.`,
    {
      advice: 'Write of one of them how high it is, for example: at 84in',
      examples: true,
      related: labels
        .filter((label) => label !== at)
        .map(({ place, text }) => ({ place, message: `${capital(text)}.` })),
    },
  );
}

/** `These cannot all hold: the back wall is 40in long; zone a is 48in wide. That takes 8in more than there is.` */
export function cannotHold(
  labels: readonly Label[],
  { weights, excess }: Pick<Conflict, 'weights' | 'excess'>,
  show: Show,
  where = '',
): string {
  const begin = `${labels.length > 1 ? 'These cannot all hold' : 'This cannot hold'}${where}`;
  const by = showLength(excess, show);
  const isBound = labels.some(({ role }) => role === 'length' || role === 'start');
  const takes = isBound ? taken(labels, weights) || tallest(labels).length : 0;
  const out =
    takes > 0
      ? `That takes ${by} more than there is.`
      : takes < 0
        ? `That leaves ${by} that nothing takes.`
        : `The sum is out by ${by}.`;
  return `${begin}: ${labels.map((l) => l.text).join('; ')}. ${out}`;
}

/** What is higher than its room by itself. */
function tallest(labels: readonly Label[]): string[] {
  return labels.flatMap(({ tall }) => tall ?? []);
}

/** Above nought where what stands there is too long for its room, below where it is too short; else nobody can say which. */
function taken(labels: readonly Label[], weights: Weights): number {
  return labels.reduce((sum, label) => sum + (label.of === undefined ? 0 : (weights.get(label) ?? 0)), 0);
}

/**
 * `height that is lacking`: what is between two heights is more than there is; `height that nothing takes`: it is less.
 * What stands under a ceiling is never too little.
 */
export function heightThatIsOut(labels: readonly Label[], weights: Weights): string {
  const between = labels.filter(({ of, role }) => of === undefined && role === 'width');
  const sum = between.reduce((all, label) => all + (weights.get(label) ?? 0), 0);
  const isTooLittle = sum < 0 && !labels.some(({ role }) => role === 'length');
  return isTooLittle ? 'height that nothing takes' : 'height that is lacking';
}

/** Of so many any one can give way; of more nobody reads the list. */
const mostNamed = 3;

/** Each of the ways would do by itself: what takes up too much is made smaller, what takes up too little greater. */
function ways(labels: readonly Label[], weights: Weights, way: (names: string, weight: 1 | -1) => string): string {
  const by = (weight: 1 | -1): string[] => {
    const names = labels.flatMap((label) =>
      label.of !== undefined && weights.get(label) === weight ? [label.of] : [],
    );
    return names.length > 0 && names.length <= mostNamed ? [way(listOr(names), weight)] : [];
  };
  return capital([...by(-1), ...by(1)].join(', or '));
}

function narrower(labels: readonly Label[], { weights, excess }: Conflict, show: Show): string {
  const by = showLength(excess, show);
  const said = ways(labels, weights, (names, weight) => `make ${names} ${by} ${weight === 1 ? 'narrower' : 'wider'}`);
  // What stands around knows its own wall; here it is not known whether there is room.
  const around = labels.find((label) => label.around !== undefined && weights.get(label) === -1)?.around;
  const outer = around === undefined ? '' : `, or ${around} ${by} wider where there is room for that`;
  return `${said || `Change the widths by ${by} in all`}${outer}`;
}

export function moved(
  labels: readonly Label[],
  { weights, excess }: Pick<Conflict, 'weights' | 'excess'>,
  show: Show,
): string {
  const by = showLength(excess, show);
  const lower = tallest(labels).map((name) => `make ${name} ${by} less high in all`);
  const moves = ways(labels, weights, (names, weight) => `${weight === 1 ? 'lower' : 'raise'} ${names} by ${by}`);
  const said = capital([...(moves === '' ? [] : [moves]), ...lower].join(', or '));
  // All that have a height of their own would have to go past the floor or the ceiling.
  const isStuck =
    labels.some(({ of }) => of !== undefined) && labels.every((l) => l.of === undefined || !weights.has(l));
  return `${said || (isStuck ? `Change the distances between them by ${by} in all` : `Move one of them by ${by}`)}.`;
}
