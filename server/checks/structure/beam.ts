/**
 * A straight, uniform, elastic beam over any number of supports at any places, with overhangs and
 * fixed supports, loaded uniformly over any lengths and at points; bending, and shear where the shear
 * stiffness is known. Signs and units as in segment.ts.
 */
import { type Beam, checkedBeam, type Refusal, refusal, SAME_PLACE, type Support } from './beam-input.ts';
import type { Rigidity } from './section.ts';
import { AT_REST, type Extremes, extremes, type Segment, type State, stateWithin } from './segment.ts';
import { type Cut, cut, march, resultant, simpleShear } from './stretch.ts';
import { supportMoments } from './three-moments.ts';

export interface Reaction {
  readonly at: number;
  readonly hold: Support['hold'];
  /** N, upwards. Negative: the beam would lift off, and is taken to be held down. */
  readonly force: number;
  /** Bending moment just right of a fixed support less that just left of it, N m. Nought at a rest. */
  readonly moment: number;
}

/** Between two supports, or from the last support to a free end. */
export interface Stretch extends Extremes {
  readonly kind: 'span' | 'overhang';
  readonly from: number;
  readonly to: number;
  readonly segments: readonly Segment[];
}

export interface Solved {
  readonly kind: 'solved';
  /** From left to right. */
  readonly reactions: readonly Reaction[];
  /** From left to right. */
  readonly stretches: readonly Stretch[];
  readonly rigidity: Rigidity;
}

/** Never throws, and no number of an answer is NaN or infinite: what cannot be computed is refused with the reason. */
export function solveBeam(beam: Beam): Solved | Refusal {
  const checked = checkedBeam(beam);
  if (checked.kind === 'refused') return checked;
  const pieces = piecesOf(checked);
  const reactions = reactionsOf(pieces, checked);
  const { rigidity } = checked;
  const stretches = pieces.map(
    ({ kind, from, to, segments }): Stretch => ({ kind, from, to, segments, ...extremes(segments, rigidity) }),
  );
  const numbers = [
    ...numbersOf(reactions),
    ...stretches.flatMap(({ deflection, moment, shear }) => [deflection.amount, moment.amount, shear.amount]),
  ];
  return numbers.every(Number.isFinite) ? { kind: 'solved', reactions, stretches, rigidity } : refusal('out-of-range');
}

/** As solveBeam, for those who want nothing but the forces on what holds it. */
export function solveReactions(beam: Beam): Pick<Solved, 'kind' | 'reactions'> | Refusal {
  const checked = checkedBeam(beam);
  if (checked.kind === 'refused') return checked;
  const reactions = reactionsOf(piecesOf(checked), checked);
  return numbersOf(reactions).every(Number.isFinite) ? { kind: 'solved', reactions } : refusal('out-of-range');
}

function piecesOf(beam: Beam): Piece[] {
  const { length: end, rigidity, supports, loads } = beam;
  const first = supports[0] as Support;
  const last = supports.at(-1) as Support;
  const before = cut(0, first.at, loads, 'left');
  const after = cut(last.at, end, loads, 'right');
  const spans = supports.slice(1).map((next, i) => cut((supports[i] as Support).at, next.at, loads));

  // What hangs over is known by statics.
  const hanging = resultant(after, last.at);
  const overhanging = { left: -resultant(before, first.at).moment, right: hanging.moment };
  const moments = supportMoments(supports, spans, rigidity, overhanging);

  const pieces = spans.map((span, i): Piece => {
    const [moment, far] = moments[i] as readonly [number, number];
    const length = span.to - span.from;
    const start = { ...AT_REST, moment, shear: simpleShear(span) + (far - moment) / length };
    const level = march(span, start, rigidity).end;
    return piece('span', span, { ...start, rotation: -level.deflection / length }, rigidity);
  });
  const turnOf = (support: Support, turned: number | undefined) => (support.hold === 'fixed' ? 0 : (turned ?? 0));
  const firstTurn = turnOf(first, pieces[0]?.start.rotation);
  const lastTurn = turnOf(last, pieces.at(-1)?.end.rotation);
  if (before.steps.length > 0) {
    // From a free end that is neither level nor at height nought, such that it meets the support.
    const level = march(before, AT_REST, rigidity).end;
    const rotation = firstTurn - level.rotation;
    const deflection = -level.deflection - rotation * first.at;
    pieces.unshift(piece('overhang', before, { ...AT_REST, rotation, deflection }, rigidity));
  }
  if (after.steps.length > 0) {
    const start = { deflection: 0, rotation: lastTurn, moment: hanging.moment, shear: hanging.force };
    pieces.push(piece('overhang', after, start, rigidity));
  }
  return pieces;
}

/** The state at `x` metres from the left end; at a load or support, just right of it. Undefined more than a micrometre beside the beam. */
export function stateAt({ stretches, rigidity }: Solved, x: number): State | undefined {
  const end = stretches.at(-1)?.to ?? 0;
  if (!(x > -SAME_PLACE && x < end + SAME_PLACE)) return undefined;
  const segments = stretches.flatMap((stretch) => stretch.segments);
  const segment = segments.findLast(({ from }) => from <= x) ?? segments[0];
  return segment && stateWithin(segment, x - segment.from, rigidity);
}

interface Piece {
  readonly kind: Stretch['kind'];
  readonly from: number;
  readonly to: number;
  readonly segments: readonly Segment[];
  /** Just right of its left end, and just left of its right end. */
  readonly start: State;
  readonly end: State;
}

function piece(kind: Stretch['kind'], { from, to, ...rest }: Cut, start: State, rigidity: Rigidity): Piece {
  return { kind, from, to, start, ...march({ from, to, ...rest }, start, rigidity) };
}

function reactionsOf(pieces: readonly Piece[], { supports, loads }: Beam): Reaction[] {
  return supports.map(({ at, hold }): Reaction => {
    const left = pieces.find(({ to }) => to === at)?.end ?? AT_REST;
    const right = pieces.find(({ from }) => from === at)?.start ?? AT_REST;
    let force = right.shear - left.shear;
    for (const load of loads) if (load.kind === 'point' && load.at === at) force += load.force;
    return { at, hold, force, moment: hold === 'fixed' ? right.moment - left.moment : 0 };
  });
}

function numbersOf(reactions: readonly Reaction[]): number[] {
  return reactions.flatMap(({ force, moment }) => [force, moment]);
}
