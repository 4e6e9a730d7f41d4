/** Towers that a template lets stand free, fastened to no wall. */
import { removed } from '../../model/edits.ts';
import { type Finding, type Fix, finding } from '../../model/finding.ts';
import type { DrawersLayout, Layout, PanelLayout } from '../../model/layout.ts';
import { showLength } from '../../model/show.ts';
import { greatest, NONE, subtract, TICKS_PER_FOOT, type Ticks } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import { volume } from '../light/exact.ts';
import { compared, fittingsOf, fromTemplate, nameOf } from '../say.ts';
import { statementOf } from '../swings/fixes.ts';
import { freeStandingDrawers, tallFreeStanding } from './rules.ts';
import { clothingStorage, mayBeClothingStorage, tallThings } from './tip-over.ts';

interface Tower {
  /** Path of the zone that its panels bound. */
  readonly zone: string;
  readonly panel: PanelLayout;
  readonly height: Ticks;
  readonly drawers: readonly DrawersLayout[];
}

export function towers(input: CheckInput): Finding[] {
  return towersOf(input.layout).flatMap((tower) => [...tall(tower, input), ...withDrawers(tower, input)]);
}

function towersOf(layout: Layout): Tower[] {
  const fittings = fittingsOf(layout);
  const free = fittings.filter((fitting): fitting is PanelLayout => fitting.kind === 'panel' && !!fitting.freeStanding);
  return [...Map.groupBy(free, ({ zone }) => zone)].flatMap(([zone, panels]) => {
    const [panel] = panels;
    if (!panel) return [];
    const drawers = fittings.filter(
      (fitting): fitting is DrawersLayout =>
        fitting.kind === 'drawers' && (fitting.zone === zone || fitting.zone.startsWith(`${zone}.`)),
    );
    return [{ zone, panel, height: greatest(NONE, ...panels.map(({ box }) => box.z[1])), drawers }];
  });
}

const fasten =
  'Take `free-standing` away and fasten it to studs, as the trade does, with a tie its maker names for that';

/** By hand: it is still to be fastened, which is work on site. */
export function fastened({ place }: PanelLayout): Fix[] {
  const stated = statementOf(place.statement, 'free-standing');
  return stated ? [{ title: 'Remove free-standing', edits: [removed(stated)], byHand: true }] : [];
}

function tall({ zone, panel, height }: Tower, { record, show }: CheckInput): Finding[] {
  const comparison = compared(`height of tower "${zone}"`, height, 'at most', tallThings.high);
  const holds = height <= tallThings.high;
  record?.looked({ rule: tallFreeStanding, about: zone, place: panel.place, comparison, holds });
  if (holds) return [];
  const length = (amount: Ticks) => showLength(amount, show);
  return [
    finding(
      tallFreeStanding,
      panel.place,
      `Tower "${zone}" stands free and is ${length(height)} high; over ${length(tallThings.high)} furniture is secured to the building.`,
      {
        about: zone,
        causes: fromTemplate,
        advice: `${fasten}, or make it ${length(subtract(height, tallThings.high))} lower.`,
        comparison,
        fixes: fastened(panel),
      },
    ),
  ];
}

function withDrawers({ zone, panel, height, drawers }: Tower, { record, show }: CheckInput): Finding[] {
  const [first] = drawers;
  if (!first) return [];
  const length = (amount: Ticks) => showLength(amount, show);
  const enclosed = drawers.reduce((sum, { box }) => {
    const [width, deep, high] = (['x', 'y', 'z'] as const).map((axis) => subtract(box[axis][1], box[axis][0]));
    return sum + volume(width ?? NONE, deep ?? NONE, high ?? NONE);
  }, 0n);
  const feet = Number((enclosed * 100n) / BigInt(TICKS_PER_FOOT) ** 3n) / 100;
  const { high, volume: large, mass } = clothingStorage;
  const marks = [height >= high, mayBeClothingStorage({ height: high, enclosed })].filter(Boolean).length;
  const comparison = {
    what: `marks of furniture that tips, height and volume, of tower "${zone}"`,
    measured: { count: marks },
    relation: 'at most' as const,
    limit: { count: 1 },
  };
  const working = [
    { what: 'height', value: length(height), how: `a mark from ${length(high)} on` },
    { what: 'enclosed by its drawers', value: `${feet} ft3`, how: `rounded down; a mark from ${large} ft3 on` },
  ];
  const holds = !mayBeClothingStorage({ height, enclosed });
  const about = { rule: freeStandingDrawers, about: zone, place: panel.place };
  record?.looked({ ...about, comparison, holds, working });
  if (holds) return [];
  record?.lacks({
    ...about,
    needs: `what tower "${zone}" weighs with its drawers: ${mass} lb or more is the third mark`,
  });
  return [
    finding(
      freeStandingDrawers,
      panel.place,
      `Tower "${zone}" stands free, is ${length(height)} high, and its drawers enclose ${feet} cubic feet; if it weighs ${mass} lb or more, the standard for clothing storage units is about it, because open drawers that a child climbs tip such a tower.`,
      {
        about: zone,
        causes: fromTemplate,
        advice: `${fasten}.`,
        related: [{ place: first.place, message: `Its ${nameOf(first)} are here.` }],
        comparison,
        working,
        fixes: fastened(panel),
      },
    ),
  ];
}
