/** What drawings of a unit are made from, and how they say lengths. */
import type { Fixings } from '../../checks/fixings/schedule.ts';
import type { Finding } from '../../model/finding.ts';
import type { DrawersLayout, FittingLayout, Layout } from '../../model/layout.ts';
import { type Show, showLength } from '../../model/show.ts';
import { TICKS_PER_FOOT, type Ticks, ticks } from '../../model/ticks.ts';
import type { Figure, Point } from './scene.ts';

/** `feet` writes `7'-9 3/4"`; what is under a foot is in inches. */
export type LengthStyle = 'inches' | 'feet' | 'millimetres';

export interface Drawable {
  readonly layout: Layout;
  readonly fixings: Fixings;
  readonly show: Show;
  readonly style: LengthStyle;
  /** In the order of their numbers, from 1. */
  readonly findings: readonly Finding[];
}

/**
 * A length as a drawing says it: without its unit of measure where that is millimetres, which the title block names;
 * with inch and foot marks otherwise. `~` stands before what is finer than what is shown.
 */
export function drawnLength(length: Ticks, { show, style }: Pick<Drawable, 'show' | 'style'>): string {
  if (style === 'millimetres') return showLength(length, show).replace(/mm$/, '');
  if (style === 'feet' && Math.abs(length) >= TICKS_PER_FOOT) {
    const feet = Math.trunc(length / TICKS_PER_FOOT);
    const rest = showLength(ticks(Math.abs(length - feet * TICKS_PER_FOOT)), show).replace(/in$/, '"');
    const [about, inches] = rest.startsWith('~') ? ['~', rest.slice(1)] : ['', rest];
    return `${about}${feet}'-${inches.replace('-', ' ')}`;
  }
  return showLength(length, show).replace(/in$/, '"');
}

/** What somebody hears who cannot see the part. */
export function spokenFitting(fitting: FittingLayout, drawable: Drawable): string {
  const { show } = drawable;
  const long = showLength(ticks(fitting.box.x[1] - fitting.box.x[0]), show);
  const at = showLength(fitting.at.value, show);
  switch (fitting.kind) {
    case 'shelf':
      return `shelf ${fitting.path}, ${long} long, underside at ${at}`;
    case 'rod':
      return `rod ${fitting.path}, ${long} long, centre at ${at}`;
    case 'panel':
      return `panel ${fitting.path}, ${showLength(ticks(fitting.box.z[1] - fitting.box.z[0]), show)} high`;
    case 'drawers':
      return `${fitting.count} drawers ${fitting.path}, ${long} wide`;
  }
}

/**
 * A mark for each thing that something was found about, by the numbers of the findings: for all that stand at one place
 * one. Where several things bear a name, the first has it.
 */
export function findingMarks(
  { findings }: Pick<Drawable, 'findings'>,
  things: readonly { readonly path: string; readonly at: Point }[],
): Figure[] {
  const numbers = new Map<string, string[]>();
  for (const [i, { about }] of findings.entries())
    if (about) numbers.set(about, [...(numbers.get(about) ?? []), String(i + 1)]);
  const marked = new Map<string, { numbers: string[]; at: Point; of: string }>();
  for (const { path, at } of things) {
    const own = numbers.get(path);
    if (!own) continue;
    numbers.delete(path);
    const key = at.map(Math.round).join();
    const known = marked.get(key);
    if (known) known.numbers.push(...own);
    else marked.set(key, { numbers: [...own], at, of: path });
  }
  return [...marked.values()].map(({ numbers: own, at, of }): Figure => {
    const text = own.join(',');
    return {
      layer: 'findings',
      of,
      label: `${own.length === 1 ? 'finding' : 'findings'} ${own.join(', ')} at ${of}`,
      shapes: [{ kind: 'symbol', symbol: 'finding', at, text }],
    };
  });
}

/** Layers of the parts, by what they are. */
export const layersOf = { shelf: 'shelves', rod: 'rods', panel: 'panels', drawers: 'drawers' } as const;

/** From below to above each drawer of a stack; the uppermost ends where the stack does. */
export function drawerHeights({ count, each, box: { z } }: DrawersLayout): (readonly [low: number, high: number])[] {
  return Array.from({ length: count }, (_, i) => [z[0] + each * i, Math.min(z[0] + each * (i + 1), z[1])] as const);
}
