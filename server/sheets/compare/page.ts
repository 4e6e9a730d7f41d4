/**
 * The change report as one page that asks for nothing: totals, then each group of changes with the walls of its first
 * unit before and after, what differs outlined.
 */
import { createHash } from 'node:crypto';
import type { Project, Unit } from '../../model/project.ts';
import type { Show } from '../../model/show.ts';
import { drawableOf } from '../drawing/drawings.ts';
import { elevationOf } from '../drawing/elevation.ts';
import { placeWithin } from '../drawing/place.ts';
import { type Figure, rectanglePoints, type Scene } from '../drawing/scene.ts';
import { escaped, svgOf } from '../drawing/svg.ts';
import { producer } from '../mark.ts';
import { TooMuch } from '../too-much.ts';
import type { ChangeGroup, Comparison } from './compare.ts';
import { namesOf, saidGroup, summaryOf, totalRows } from './said.ts';
import type { Titles } from './text.ts';

export interface ComparedProject {
  readonly comparison: Comparison;
  readonly titles: Titles;
  readonly show: Show;
  readonly currency: string | undefined;
  readonly before: Project;
  readonly after: Project;
}

/** Drawings of more groups than this would make a page that nobody scrolls through. */
const mostDrawn = 40;

export function* comparePage(projects: readonly ComparedProject[]): Generator<string> {
  const title = projects.map(({ titles }) => titles.project).join(', ');
  const hash = createHash('sha256').update(style).digest('base64');
  yield `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="${producer}">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'sha256-${hash}'">
<title>${escaped(`What differs: ${title}`)}</title>
<style>${style}</style>
</head>
<body>
<main>
`;
  for (const project of projects) yield* projectPart(project);
  yield '</main>\n</body>\n</html>\n';
}

function* projectPart({ comparison, titles, show, currency, before, after }: ComparedProject): Generator<string> {
  yield `<h1>${escaped(titles.project)}</h1>
<p class="what"><del>${escaped(titles.before)}</del> <ins>${escaped(titles.after)}</ins></p>
<p class="sum">${escaped(summaryOf(comparison))}</p>
`;
  const rows = totalRows(comparison, show, currency).map(
    ({ what, before: old, after: now, difference }) =>
      `<tr${difference === '' ? '' : ' class="differs"'}><th scope="row">${escaped(what)}</th><td>${escaped(old)}</td><td>${escaped(now)}</td><td>${escaped(difference)}</td></tr>`,
  );
  yield `<table><thead><tr><td></td><th scope="col">before</th><th scope="col">after</th><th scope="col">difference</th></tr></thead><tbody>\n${rows.join('\n')}\n</tbody></table>\n`;
  const lists: [string, readonly string[]][] = [
    ['New units', comparison.added],
    ['Units that are gone', comparison.removed],
    ['Units with another name', comparison.renamed.map(({ before: old, after: now }) => `${old} -> ${now}`)],
    [
      'New findings',
      comparison.findings.added.map(({ severity, rule, message }) => `${severity} ${rule.id}: ${message}`),
    ],
    [
      'Findings that are gone',
      comparison.findings.gone.map(({ severity, rule, message }) => `${severity} ${rule.id}: ${message}`),
    ],
  ];
  for (const [title, list] of lists) if (list.length > 0) yield `<h2>${title}</h2>\n<p>${escaped(namesOf(list))}</p>\n`;
  for (const [i, group] of comparison.groups.entries()) {
    const { title, units, rows: changes } = saidGroup(group, show);
    yield `<section>\n<h2>${escaped(title)}</h2>\n<p class="units">${escaped(units)}</p>\n<table class="changes"><thead><tr><td></td><th scope="col">thing</th><th scope="col">what</th><th scope="col">how</th></tr></thead><tbody>\n`;
    for (const { sign, of, what, how } of changes)
      yield `<tr><td><abbr title="${{ '+': 'new', '-': 'gone', '~': 'another' }[sign]}">${sign}</abbr></td><th scope="row">${escaped(of)}</th><td>${escaped(what)}</td><td>${escaped(how)}</td></tr>\n`;
    yield '</tbody></table>\n';
    if (i < mostDrawn) yield* drawings(group, comparison, before, after);
    yield '</section>\n';
  }
}

/** The walls on which something differs, as they were and as they are. */
function* drawings(group: ChangeGroup, { pairs }: Comparison, before: Project, after: Project): Generator<string> {
  const pair = pairs.get(group.units[0] ?? '');
  if (!pair) return;
  const changed = new Set(
    group.changes.filter(({ kind }) => kind !== 'finding' && kind !== 'unit').map(({ of }) => of),
  );
  if (changed.size === 0) return;
  const [old, now] = [wallsOf(before, pair[0], changed), wallsOf(after, pair[1], changed)];
  const names = [...new Set([...old.keys(), ...now.keys()])].filter(
    (name) => old.get(name)?.marks || now.get(name)?.marks,
  );
  for (const name of names) {
    yield `<div class="pair">\n`;
    for (const [when, scene] of [
      ['before', old.get(name)?.scene],
      ['after', now.get(name)?.scene],
    ] as const) {
      const unit = when === 'before' ? pair[0].name : pair[1].name;
      yield `<figure><figcaption>${escaped(`${unit}, ${name} wall, ${when}`)}</figcaption>${scene ? drawn(scene) : '<p>There is no such wall.</p>'}</figure>\n`;
    }
    yield '</div>\n';
  }
}

function drawn(scene: Scene): string {
  // Its own style would need leave of its own: the page has the same rules.
  try {
    return svgOf(placeWithin(scene, 180, 160), { background: 'page' }).replace(/<style>[\s\S]*?<\/style>\n?/, '');
  } catch (error) {
    // Half of the page may be out already.
    if (error instanceof TooMuch) return `<p>${escaped(error.message)}</p>`;
    throw error;
  }
}

interface Wall {
  readonly scene: Scene;
  /** Something on it is outlined. */
  readonly marks: boolean;
}

function wallsOf(project: Project, unit: Unit, changed: ReadonlySet<string>): Map<string, Wall> {
  const { show } = project.settings;
  const drawable = drawableOf(project, unit, show.system === 'inches' ? 'inches' : 'millimetres');
  const walls = new Map<string, Wall>();
  if (!drawable) return walls;
  const plain = { ...drawable, findings: [] };
  for (const { name } of drawable.layout.walls) {
    const scene = elevationOf(plain, name);
    if (!scene) continue;
    const things = [
      ...drawable.layout.zones.flatMap((zone) => zone.fittings),
      ...drawable.layout.fixtures.map((fixture) => ({ ...fixture, path: fixture.name })),
    ].filter((thing) => thing.wall === name && changed.has(thing.path));
    const zones = drawable.layout.zones.filter((zone) => zone.wall === name && changed.has(zone.path));
    const outlines: Figure[] = [
      ...things.map(({ path, box }) => outline(path, box.x, box.z)),
      ...zones.map(({ path, from, width }) =>
        outline(path, [from.value, from.value + width.value], [0, width.value / 8]),
      ),
    ];
    walls.set(name, {
      scene: { ...scene, figures: [...scene.figures, ...outlines] },
      marks: outlines.length > 0 || changed.has(name),
    });
  }
  return walls;
}

function outline(of: string, x: readonly [number, number], z: readonly [number, number]): Figure {
  const by = Math.max((x[1] - x[0]) * 0.015, 800_000);
  return {
    layer: 'findings',
    of,
    label: `${of} differs`,
    shapes: [
      {
        kind: 'area',
        points: rectanglePoints([x[0] - by, x[1] + by], [z[0] - by, z[1] + by]),
        pen: 'finding',
        fill: 'none',
      },
    ],
  };
}

const style = [
  ':root{color-scheme:light dark;--paper:#fff;--ink:#101010;--soft:#5a5a5a;--line:#b5b5b5;--mark:#fff1c2}',
  '@media (prefers-color-scheme:dark){:root{--paper:#14171a;--ink:#f2f2f2;--soft:#b9b9b9;--line:#555;--mark:#4a3c10}}',
  'body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,sans-serif}',
  'main{max-width:70rem;margin:0 auto;padding:1.5rem}',
  'h1{font-size:1.6rem;margin:0 0 .3rem}h2{font-size:1.15rem;margin:2rem 0 .3rem}',
  '.what{color:var(--soft);margin:.2rem 0}.what del{text-decoration:none}.what del::after{content:" \\2192"}.what ins{text-decoration:none}',
  '.sum{font-weight:600}.units{color:var(--soft);margin:.2rem 0}',
  'table{border-collapse:collapse;margin:.6rem 0}td,th{padding:.2rem .8rem .2rem 0;text-align:left;vertical-align:top;font-weight:400;border-bottom:1px solid var(--line)}',
  'thead th{color:var(--soft);font-size:.85rem}td:not(:first-child){font-variant-numeric:tabular-nums}tr.differs{background:var(--mark)}',
  '.changes th[scope=row]{font-family:ui-monospace,monospace}abbr{text-decoration:none}',
  '.pair{display:grid;grid-template-columns:repeat(auto-fit,minmax(20rem,1fr));gap:1rem;break-inside:avoid}',
  'figure{margin:.8rem 0}figcaption{color:var(--soft);font-size:.9rem}figure svg{max-width:100%;height:auto}',
  '.d{fill:none;stroke:var(--ink);stroke-linecap:round;stroke-linejoin:round}.p{fill:var(--paper)}.i{fill:var(--ink)}.n{stroke:none}',
  '.t{fill:var(--ink);stroke:none;font-family:"DejaVu Sans Condensed","DejaVu Sans",sans-serif}.r{fill:var(--paper)}.b{font-weight:bold}',
].join('\n');
