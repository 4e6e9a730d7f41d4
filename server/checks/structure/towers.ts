/** Whether a tower that stands free tips over its front edge when its drawers are out. */
import { type Finding, finding } from '../../model/finding.ts';
import type { DrawersLayout, PanelLayout, ShelfLayout } from '../../model/layout.ts';
import { greatest, NONE, type Ticks } from '../../model/ticks.ts';
import { fastened } from '../access/towers.ts';
import { type CheckInput, lacks, looked } from '../check.ts';
import { both, capital, fittingsOf, fromTemplate, nameOf } from '../say.ts';
import { forceText, momentAmount, momentText, nearText } from './amounts.ts';
import { freeStandingTips } from './rules.ts';
import { tipping } from './tipping.ts';
import { GRAVITY, metres } from './units.ts';

interface Tower {
  readonly zone: string;
  readonly panel: PanelLayout;
  readonly boards: readonly (PanelLayout | ShelfLayout)[];
  readonly drawers: readonly DrawersLayout[];
}

export function freeStandingTowers(input: CheckInput): Finding[] {
  return [...towersOf(input)].flatMap((tower) => tips(tower, input));
}

function* towersOf({ layout }: CheckInput): Generator<Tower> {
  const fittings = fittingsOf(layout);
  for (const zone of new Set(fittings.flatMap((f) => (f.kind === 'panel' && f.freeStanding ? [f.zone] : [])))) {
    const own = fittings.filter((f) => f.zone === zone || f.zone.startsWith(`${zone}.`));
    const panel = own.find((f): f is PanelLayout => f.kind === 'panel');
    if (!panel) continue;
    yield {
      zone,
      panel,
      boards: own.filter((f): f is PanelLayout | ShelfLayout => f.kind === 'panel' || f.kind === 'shelf'),
      drawers: own.filter((f): f is DrawersLayout => f.kind === 'drawers'),
    };
  }
}

function tips({ zone, panel, boards, drawers }: Tower, input: CheckInput): Finding[] {
  const { show } = input;
  if (drawers.length === 0) return [];
  const at = { path: zone, place: panel.place };
  const unknown = [
    ...new Set(
      boards.flatMap(({ board }) =>
        board?.weight === undefined ? [`the weight of board ${board?.name ?? '(none)'}`] : [],
      ),
    ),
    ...drawers.flatMap((d) =>
      d.weight === undefined ? [`the weight of one drawer of ${d.path} with what is in it`] : [],
    ),
  ];
  if (unknown.length > 0) {
    for (const needs of unknown) lacks(input, freeStandingTips, at, needs);
    return [];
  }
  const front: Ticks = greatest(NONE, ...boards.filter((b) => b.kind === 'panel').map(({ box }) => box.y[1]));
  let [weight, moment] = [0, 0];
  for (const { board, box, kind } of boards) {
    const [wide, deep, high] = (['x', 'y', 'z'] as const).map((axis) => metres((box[axis][1] - box[axis][0]) as Ticks));
    const area = kind === 'panel' ? (deep ?? 0) * (high ?? 0) : (deep ?? 0) * (wide ?? 0);
    const force = area * (board?.weight ?? 0) * GRAVITY;
    weight += force;
    moment += force * (metres(front) - (metres(box.y[0]) + metres(box.y[1])) / 2);
  }
  const answer = tipping({
    weight,
    behindEdge: weight === 0 ? 0 : Math.max(0, moment / weight),
    open: drawers.flatMap((d) =>
      Array.from({ length: d.count }, () => ({
        weight: (d.weight ?? 0) * GRAVITY,
        depth: metres(d.depth),
        pullOut: Math.max(0, metres(d.pullOut) - metres((front - d.box.y[1]) as Ticks)),
      })),
    ),
  });
  if (!answer) return [];
  const comparison = {
    what: `moment that keeps tower "${zone}" standing`,
    measured: momentAmount(answer.keeps, show),
    relation: 'at least' as const,
    limit: momentAmount(answer.tips, show),
  };
  const working = () => [
    {
      what: 'boards',
      value: forceText(weight, show),
      how: `${nearText(weight === 0 ? 0 : moment / weight, show)} behind the front edge`,
    },
    ...drawers.map((d) => ({
      what: `drawers ${d.path}`,
      value: `${d.count} x ${forceText((d.weight ?? 0) * GRAVITY, show)}`,
      how: 'all out at once, each in its middle',
    })),
    { what: 'keeps it standing', value: momentText(answer.keeps, show) },
    { what: 'tips it', value: momentText(answer.tips, show) },
  ];
  if (looked(input, freeStandingTips, at, comparison, answer.keeps >= answer.tips, working)) return [];
  return [
    finding(
      freeStandingTips,
      panel.place,
      `Tower "${zone}" tips over when ${both(drawers.map(nameOf))} are out: ${momentText(answer.tips, show)} about its front edge tip it, and ${momentText(answer.keeps, show)} keep it standing.`,
      {
        about: zone,
        causes: fromTemplate,
        advice:
          'Take `free-standing` away and fasten it to studs: the trade requires a wall fixing for every tower. Fewer, lighter or shorter drawers alone do not hold a child that climbs it.',
        related: drawers.map((d) => ({ place: d.place, message: `${capital(nameOf(d))} come out here.` })),
        comparison,
        working: working(),
        fixes: fastened(panel),
      },
    ),
  ];
}
