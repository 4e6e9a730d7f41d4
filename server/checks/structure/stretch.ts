/** A stretch of a beam between two supports, or from a support to a free end, cut where its load changes. */
import type { BeamLoad } from './beam-input.ts';
import type { Rigidity } from './section.ts';
import { type Segment, type State, stateWithin } from './segment.ts';

export interface Cut {
  readonly from: number;
  readonly to: number;
  /** Lengths of uniform load, N/m, from left to right. */
  readonly steps: readonly { readonly from: number; readonly length: number; readonly load: number }[];
  /** Point loads, N, by their places. Those at a support go straight into it and are not here. */
  readonly drops: ReadonlyMap<number, number>;
}

/** `free`: the end that nothing supports, where a point load still counts. */
export function cut(from: number, to: number, loads: readonly BeamLoad[], free?: 'left' | 'right'): Cut {
  const stops = new Set([from, to]);
  const drops = new Map<number, number>();
  for (const load of loads) {
    for (const stop of load.kind === 'point' ? [load.at] : [load.from, load.to]) {
      if (stop > from && stop < to) stops.add(stop);
    }
    if (load.kind !== 'point') continue;
    const counts =
      (load.at > from || (free === 'left' && load.at === from)) &&
      (load.at < to || (free === 'right' && load.at === to));
    if (counts) drops.set(load.at, (drops.get(load.at) ?? 0) + load.force);
  }
  const places = [...stops].sort((a, b) => a - b);
  const steps = places.slice(1).map((end, i) => {
    const begin = places[i] as number;
    let load = 0;
    for (const one of loads) if (one.kind === 'uniform' && one.from <= begin && one.to >= end) load += one.perMetre;
    return { from: begin, length: end - begin, load };
  });
  return { from, to, steps, drops };
}

/** Goes through a stretch from its state at the left to its state at the right. */
export function march({ steps, drops }: Cut, start: State, rigidity: Rigidity): { segments: Segment[]; end: State } {
  const segments: Segment[] = [];
  let state = start;
  for (const step of steps) {
    const segment: Segment = { ...step, start: { ...state, shear: state.shear - (drops.get(step.from) ?? 0) } };
    segments.push(segment);
    state = stateWithin(segment, step.length, rigidity);
  }
  return { segments, end: state };
}

/** All that loads the stretch, N, and its moment about the place `at`: force times how far left of it, N m. */
export function resultant({ steps, drops }: Cut, at: number): { readonly force: number; readonly moment: number } {
  let force = 0;
  let moment = 0;
  for (const { from, length, load } of steps) {
    force += load * length;
    moment += load * length * (at - from - length / 2);
  }
  for (const [place, drop] of drops) {
    force += drop;
    moment += drop * (at - place);
  }
  return { force, moment };
}

/** Shear at the left end of a stretch that rests on its two ends. */
export function simpleShear(span: Cut): number {
  return resultant(span, span.to).moment / (span.to - span.from);
}
