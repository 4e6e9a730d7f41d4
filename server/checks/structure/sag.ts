/** Whether a shelf or rod sags too far, and what would mend it: the rule's own inverse, way by way. */
import type { Finding, Fix, Related } from '../../model/finding.ts';
import type { Rule } from '../../model/rule.ts';
import { showLength } from '../../model/show.ts';
import { subtract, ticks } from '../../model/ticks.ts';
import { type CheckInput, looked, passesUnheard } from '../check.ts';
import { about, capital, compared, either, nameOf } from '../say.ts';
import { atLeastText, atMostText, downTicks, lineAtMostText, sagText, upTicks } from './amounts.ts';
import { asBeamLoads } from './carried.ts';
import { sagFixes } from './fixes.ts';
import { countedLength, type Deflected, type DeflectionLimit } from './limits.ts';
import type { Prepared } from './prepared.ts';
import { restsText } from './rests.ts';
import { greatestLength, greatestPassing, staysWithin } from './span.ts';
import { leastEdge, leastThickness, tryStiffening, worstOf } from './stiffen.ts';
import { INCH, metres } from './units.ts';

/** A limit, and who set it. */
export interface Asked {
  readonly rule: Rule;
  readonly limit: DeflectionLimit;
  readonly creep: number;
  /** `policy "everyday"`, `published advice`. */
  readonly by: string;
  readonly related: readonly Related[];
}

/** Nobody builds shelves thicker than this, or edges higher: m. */
const THICKEST = 2 * INCH;
const HIGHEST_EDGE = 4 * INCH;

export function sag(prepared: Prepared, asked: Asked, input: CheckInput): Finding[] {
  const { fitting, answer } = prepared;
  const { rule, limit, creep } = asked;
  const worst = worstOf(answer, limit, creep);
  if (!worst || !Number.isFinite(worst.allowed) || passesUnheard(input, worst.holds)) return [];
  const comparison = compared(
    `sag of "${fitting.path}"`,
    upTicks(worst.deflection),
    'at most',
    downTicks(worst.allowed),
  );
  const working = () => [...prepared.working(), ...sagWorking(worst, asked, input)];
  if (looked(input, rule, fitting, comparison, worst.holds, working)) return [];
  const { show } = input;
  const counted = countedLength(worst.stretch);
  const byRatio = limit.ratio !== undefined && worst.allowed === counted / limit.ratio;
  const part = byRatio ? `, ${worst.stretch.kind === 'span' ? 'its span' : 'twice its length'} / ${limit.ratio}` : '';
  return [
    about(
      rule,
      fitting,
      fitting.place,
      `${capital(nameOf(fitting))} sags ${sagText(worst.deflection, show)} ${where(prepared, worst, input)} under ${prepared.carried.words}${prepared.own > 0 ? ' and its own weight' : ''}; ${asked.by} allows ${sagText(worst.allowed, show)}${part}.`,
      {
        advice: ways(prepared, asked, input),
        related: [
          ...asked.related,
          ...prepared.carried.places.map((place) => ({ place, message: `It carries ${prepared.carried.words}.` })),
        ],
        comparison,
        working: working(),
        fixes: fixes(prepared, asked, input),
      },
    ),
  ];
}

/** `between its two ends, 36in apart`, `at its left end, 6in past the last of its brackets at 6in and 42in`. */
function where({ rests, beam }: Prepared, { stretch }: Deflected, { show }: CheckInput): string {
  const length = showLength(ticks(Math.round((stretch.to - stretch.from) * 4e7)), show);
  const held = restsText(rests, show);
  if (stretch.kind === 'span') {
    return rests.length === 2 ? `between ${held}, ${length} apart` : `over ${length} between two of its ${held}`;
  }
  return `${stretch.to < beam.length ? 'at its left end' : 'at its right end'}, ${length} past the last of its ${held}`;
}

function sagWorking({ stretch, deflection, allowed }: Deflected, { limit, creep }: Asked, { show }: CheckInput) {
  const length = atMostText(stretch.to - stretch.from, show);
  const parts = [
    ...(limit.ratio === undefined ? [] : [`${stretch.kind === 'span' ? 'span' : '2 x overhang'} / ${limit.ratio}`]),
    ...(limit.most === undefined ? [] : [`at most ${sagText(limit.most, show)}`]),
  ];
  return [
    { what: stretch.kind, value: length },
    { what: 'deflection at once', value: sagText(deflection / creep, show), how: 'elastic beam over its supports' },
    ...(creep === 1
      ? []
      : [{ what: 'sag in the long run', value: sagText(deflection, show), how: `x creep ${creep}` }]),
    { what: 'allowed', value: sagText(allowed, show), how: parts.join(', ') },
  ];
}

/** What would mend it, with the numbers at which it just passes. */
function ways(prepared: Prepared, { limit, creep }: Asked, { show }: CheckInput): string {
  const { shelf, fitting } = prepared;
  const found: string[] = [];
  const span = greatestSpan(prepared, limit, creep);
  if (span !== undefined) found.push(`hold it every ${atMostText(span, show)} or nearer`);
  if (shelf) {
    const options = { thicknesses: [], edges: [] };
    const more = tryStiffening(shelf, options, limit, creep).find(({ holds }) => holds);
    if (more?.option.kind === 'support') {
      found.push(`hold it once more, ${atMostText(more.option.at, show)} from its left end`);
    }
    const thick = shelf.edge ? undefined : leastThickness(shelf, limit, creep, THICKEST);
    if (thick !== undefined) found.push(`take a board of the same material at least ${atLeastText(thick, show)} thick`);
    const strip = shelf.edge ?? { thickness: shelf.thickness, material: shelf.material };
    const high = leastEdge(shelf, strip, limit, creep, HIGHEST_EDGE);
    if (high !== undefined) {
      const of = shelf.edge ? 'make its front edge' : 'glue an upright front edge of the same board along it,';
      found.push(`${of} at least ${atLeastText(high, show)} high`);
    }
  }
  const share = greatestShare(prepared, limit, creep);
  if (share > 0 && prepared.carried.middle === 0) {
    const load = lineAtMostText(prepared.carried.perMetre * share, show);
    found.push(`${fitting.kind === 'rod' ? 'hang' : 'put'} no more than ${load} on it`);
  }
  return found.length === 0 ? 'Shorten it, or hold it in more places.' : `${capital(either(found))}.`;
}

/** The greatest simple span under the same loads, m. */
export function greatestSpan(
  { beam, carried, own }: Prepared,
  limit: DeflectionLimit,
  creep: number,
): number | undefined {
  const loads = { perMetre: carried.perMetre + own, middle: carried.middle };
  return greatestLength(
    (length) => ({
      length,
      rigidity: beam.rigidity,
      supports: [
        { at: 0, hold: 'rest' },
        { at: length, hold: 'rest' },
      ],
      loads: asBeamLoads(loads, length),
    }),
    limit,
    beam.length,
    creep,
  );
}

/** The greatest share of what it carries that it may carry; nought where its own weight is too much. */
function greatestShare({ beam, carried, own }: Prepared, limit: DeflectionLimit, creep: number): number {
  const passes = (share: number) => {
    const loads = { perMetre: carried.perMetre * share + own, middle: carried.middle * share };
    return staysWithin({ ...beam, loads: asBeamLoads(loads, beam.length) }, limit, creep);
  };
  return greatestPassing(passes, { from: 0, to: 1, within: 1e-6 }) ?? 0;
}

function fixes(prepared: Prepared, { limit, creep }: Asked, input: CheckInput): Fix[] {
  const { shelf, rests, fitting, beam } = prepared;
  const onEnds = rests.length === 2 && rests.every(({ what }) => what === 'end' || what === 'cup' || what === 'pin');
  const span = onEnds ? greatestSpan(prepared, limit, creep) : undefined;
  const high = shelf?.edge && leastEdge(shelf, shelf.edge, limit, creep, HIGHEST_EDGE);
  const whole = metres(subtract(fitting.box.x[1], fitting.box.x[0]));
  return sagFixes(fitting, input, {
    shorterBy: span === undefined ? undefined : whole - (span * whole) / beam.length,
    edge: high,
  });
}
