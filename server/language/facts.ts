/** What was computed from a statement of a template: its parts, zone or wall in every unit that uses it. */
import { type Place, type Statement, topOf } from '../../grammar/tree.ts';
import type {
  FittingLayout,
  Layout,
  LevelLine,
  MatchedParts,
  Part,
  Range,
  WallLayout,
  ZoneLayout,
} from '../model/layout.ts';
import { stepText } from '../model/parts.ts';
import type { Project, Unit } from '../model/project.ts';
import { type Show, showLength, showRange } from '../model/show.ts';
import { type Ticks, ticks } from '../model/ticks.ts';
import { fenced } from './markdown.ts';
import type { Snapshot } from './snapshot.ts';

/** Equal layouts are computed once; `units` counts the closets that share one, none for a template's own samples. */
interface Use {
  readonly layout: Layout;
  units: number;
  /** The first of them; undefined for a sample. */
  readonly name: string | undefined;
}

/** The layouts in which a statement of a template takes part, that of one unit where it is there; its samples where no unit uses it. */
function usesOf(project: Project, statement: Statement, one: Unit | undefined): Use[] {
  const own = one?.resolved?.layout;
  if (one && own && speaksOf(own, statement)) return [{ layout: own, units: 1, name: one.name }];
  const uses = new Map<Layout, Use>();
  for (const unit of project.units()) {
    const layout = unit.resolved?.layout;
    if (!layout) continue;
    const known = uses.get(layout);
    if (known) known.units += unit.count;
    else uses.set(layout, { layout, units: unit.count, name: unit.name });
  }
  const used = [...uses.values()].filter(({ layout }) => speaksOf(layout, statement));
  return used.length > 0 ? used : samplesOf(project, statement);
}

/** The layouts of the ends of a template's ranges. */
function samplesOf(project: Project, statement: Statement): Use[] {
  return project
    .samplesOf(topOf(statement))
    .map(({ resolved }) => ({ layout: resolved.layout, units: 0, name: undefined }))
    .filter(({ layout }) => speaksOf(layout, statement));
}

function speaksOf(layout: Layout, statement: Statement): boolean {
  const isOf = ({ place }: { readonly place: Place }): boolean => place.statement === statement;
  return (
    layout.parts.some(isOf) || layout.walls.some(isOf) || layout.zones.some((z) => isOf(z) || z.fittings.some(isOf))
  );
}

/**
 * Paragraphs about a shelf, rod, panels, row, zone, gap or wall as it comes out, in all units or in the one that is asked
 * about. Empty where nothing was computed.
 */
export function factsOf({ project }: Snapshot, statement: Statement, one?: Unit): string[] {
  const { show } = project.settings;
  const uses = usesOf(project, statement, one);
  if (uses.length === 0) return [];
  const isOf = ({ place }: { readonly place: Place }): boolean => place.statement === statement;
  const units = uses.reduce((sum, use) => sum + use.units, 0);
  const where = whereText(uses, units, one);
  const walls = uses.flatMap(({ layout }) => layout.walls.filter(isOf));
  if (walls.length > 0) return [...wallFacts(walls, where, show), ...leftFacts(uses, isOf, show)];
  const samples = units === 0 ? [] : samplesOf(project, statement);
  const allowed = (lengths: (layout: Layout) => readonly Ticks[]): string =>
    allowedText(
      samples.flatMap(({ layout }) => lengths(layout)),
      uses.flatMap(({ layout }) => lengths(layout)),
      show,
    );
  const zones = uses.flatMap(({ layout }) => layout.zones.filter(isOf));
  if (zones.length > 0) {
    const range = allowed((layout) => layout.zones.filter(isOf).map((z) => z.width.value));
    return zoneFacts(uses, isOf, `${where}${range}`, show);
  }
  const parts = uses.flatMap(({ layout }) => layout.parts.filter(isOf));
  const shown = uses.find(({ layout }) => layout.parts.some(isOf));
  const cut = allowed((layout) => layout.parts.filter(isOf).map((p) => p.length));
  const fittings = uses.flatMap(({ layout }) => layout.zones.flatMap((z) => z.fittings.filter(isOf)));
  const paths = new Set(parts.map((p) => p.path));
  const lines = uses.flatMap(({ layout }) => layout.lines.filter((l) => l.shelves.some((s) => paths.has(s))));
  const sets = uses.flatMap(({ layout }) => layout.matched ?? []).filter((set) => set.parts.some(isOf));
  return [
    ...partFacts(parts, shown?.name, `${where}${cut}`, show),
    ...matchedFacts(sets, parts, show),
    ...heightFacts(fittings, show),
    ...lineFacts(lines, show),
  ];
}

/** `in 2 units`; one that was asked about by its name. */
function whereText([first]: readonly Use[], units: number, one: Unit | undefined): string {
  if (units === 0) return 'over the ranges of the template';
  if (one && first?.layout === one.resolved?.layout) return `in ${one.name}`;
  return units === 1 ? 'in 1 unit' : `in ${units} units`;
}

/** `unit` is that of the first part, of which it is shown how it comes to its length: others may come to another. */
function partFacts(parts: readonly Part[], unit: string | undefined, where: string, show: Show): string[] {
  const [first] = parts;
  if (!first) return [];
  const isOne = parts.every(({ length }) => length === first.length);
  const materials = [...new Set(parts.map((p) => p.material))].map((m) => `\`${m}\``).join(', ');
  return [
    `Cut **${spread(
      parts.map((p) => p.length),
      show,
    )}** of ${materials} ${where}.`,
    ...(isOne || unit === undefined ? [] : [`In ${unit}:`]),
    derivation(first, show),
  ];
}

/** With which others a part comes from one board, in their order; a set of the first kind of unit stands for all. */
function matchedFacts(sets: readonly MatchedParts[], parts: readonly Part[], show: Show): string[] {
  const alone = parts.find(({ matched }) => matched);
  if (sets.length === 0)
    return alone?.matched ? [`Matched set \`${alone.matched.set}\` has no other part of \`${alone.material}\`.`] : [];
  return [...Map.groupBy(sets, ({ set, material }) => `${set} ${material}`).values()].flatMap(([first]) => {
    if (!first) return [];
    const order = first.parts.map(({ path, length }) => `${path} (${showLength(length, show)})`).join(', ');
    return [`Matched set \`${first.set}\`: from one board of \`${first.material}\`, one after another: ${order}.`];
  });
}

/** How one part's length came about, as amounts that add up to it. */
function derivation({ path, steps, length }: Part, show: Show): string {
  const rows = steps.map((step) => stepText(step, show));
  const total = { amount: showLength(length, show), what: `finished length of ${path}` };
  const wide = Math.max(...[...rows, total].map((r) => r.amount.length));
  const text = [...rows, total].map((r) => `${r.amount.padStart(wide)}  ${r.what}`);
  return fenced(text.join('\n'), 'text');
}

function heightFacts(fittings: readonly FittingLayout[], show: Show): string[] {
  const [first] = fittings;
  if (!first) return [];
  if (first.kind === 'panel') return [];
  const datum =
    first.kind === 'rod'
      ? 'to its centre'
      : first.kind === 'shelf' && first.tilted
        ? 'to its underside at the front edge'
        : 'to its underside';
  const at = spread(
    fittings.map((f) => f.at.value),
    show,
  );
  const loose = fittings.find((f) => isLoose(f.at));
  const range = loose
    ? ` It may be anywhere from ${showRange(loose.at.least, loose.at.most, show)}; the lowest is taken.`
    : '';
  return [`At ${at}, from the finished floor ${datum}.${range}`];
}

/** The line on the wall that shelves at one height share, and which they are. */
function lineFacts(lines: readonly LevelLine[], show: Show): string[] {
  if (lines.length === 0) return [];
  const at = spread(
    lines.map((l) => l.height),
    show,
  );
  const long = spread(
    lines.map((l) => l.length),
    show,
  );
  const shelves = [...new Set(lines.flatMap((l) => l.shelves))];
  return [`Level line at ${at}, ${long} long${shelves.length > 1 ? `: ${shelves.join(', ')}` : ''}.`];
}

type IsOf = (thing: { readonly place: Place }) => boolean;

function zoneFacts(uses: readonly Use[], isOf: IsOf, where: string, show: Show): string[] {
  const zones = uses.flatMap(({ layout }) => layout.zones.filter(isOf));
  const [first] = zones as [ZoneLayout, ...ZoneLayout[]];
  const width = spread(
    zones.map((z) => z.width.value),
    show,
  );
  const from = spread(
    zones.map((z) => z.from.value),
    show,
  );
  const loose = zones.find((z) => isLoose(z.width));
  const ranges = loose ? ` Its width may be ${showRange(loose.width.least, loose.width.most, show)}` : '';
  const taken = loose?.settled === 'range' ? '; the least is taken.' : '; it follows from the others.';
  return [
    `**${width}** wide ${where}, its left end ${from} along wall ${first.wall}.`,
    `${settledText(first, uses, show)}${ranges}${loose ? taken : ''}`,
  ];
}

/** What gives a zone its width. */
function settledText({ settled, wall, path }: ZoneLayout, uses: readonly Use[], show: Show): string {
  if (settled === 'fixed') return 'As it is written.';
  if (settled === 'range') return 'Within the range that is written.';
  const outer = outerOf(path);
  const wholes = uses.flatMap(({ layout }) => {
    const whole = outer
      ? layout.zones.find((z) => z.path === outer)?.width.value
      : layout.walls.find((w) => w.name === wall)?.length;
    return whole === undefined ? [] : [whole];
  });
  const beside = uses.flatMap(({ layout }) =>
    layout.zones.filter((z) => z.wall === wall && z.path !== path && outerOf(z.path) === outer),
  );
  const others = [...Map.groupBy(beside, (z) => z.path)].map(([name, all]) => {
    const widths = all.map((z) => z.width.value);
    return `${name} (${spread(widths, show)})`;
  });
  const share = settled === 'share' ? 'An equal share of what' : 'What';
  const length = wholes.length > 0 ? ` (${spread(wholes, show)})` : '';
  const of = outer ? `zone ${outer}` : `wall ${wall}`;
  return `${share} is left of ${of}${length}${others.length > 0 ? ` beside ${others.join(', ')}` : ''}.`;
}

/** `tower` for `tower.left`. */
function outerOf(path: string): string | undefined {
  const dot = path.lastIndexOf('.');
  return dot < 0 ? undefined : path.slice(0, dot);
}

function wallFacts(walls: readonly WallLayout[], where: string, show: Show): string[] {
  const surveyed = walls.filter((w) => w.readings.length > 0);
  return [
    `Drawn **${spread(
      walls.map((w) => w.nominal),
      show,
    )}** long ${where}.`,
    ...(surveyed.length > 0
      ? [
          `Measured ${spread(
            surveyed.flatMap((w) => w.readings.map((r) => r.length)),
            show,
          )}.`,
        ]
      : []),
  ];
}

/** What zones leave of a wall. Of one that carries none nothing is said: there is nothing that it could be left of. */
function leftFacts(uses: readonly Use[], isOf: IsOf, show: Show): string[] {
  const walls = uses.flatMap(({ layout }) =>
    layout.walls.filter((wall) => isOf(wall) && layout.zones.some((z) => z.wall === wall.name)),
  );
  if (walls.length === 0) return [];
  const left = walls.flatMap((w) => w.left.map((l) => l.width)).filter((width) => width > 0);
  return [left.length > 0 ? `Left over: ${spread(left, show)}.` : 'Nothing is left over.'];
}

/** What the ranges of a template come to, where that is not what its units do: that is what is shown in its text. */
function allowedText(samples: readonly Ticks[], units: readonly Ticks[], show: Show): string {
  if (samples.length === 0 || units.length === 0) return '';
  const allowed = spread(samples, show);
  return allowed === spread(units, show) ? '' : ` (${allowed} over the ranges of the template)`;
}

function isLoose({ least, most }: Range): boolean {
  return most !== least;
}

/** The least to the greatest of some lengths. */
function spread(lengths: readonly Ticks[], show: Show): string {
  return showRange(ticks(Math.min(...lengths)), ticks(Math.max(...lengths)), show);
}
