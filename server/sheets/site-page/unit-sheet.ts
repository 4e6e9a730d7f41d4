/** What is read on site of one layout, as markup: the same for all units that share it, so nothing in it names one. */

import { capital } from '../../model/capital.ts';
import type { Unit } from '../../model/project.ts';
import { showInches } from '../../model/show.ts';
import { inches, millimetres, roundDown, type Ticks, ticks } from '../../model/ticks.ts';
import { cutLines, pathsText } from '../cut-list.ts';
import type { Drawable } from '../drawing/drawable.ts';
import { drawingsOf } from '../drawing/drawings.ts';
import { inchScales, metricScales } from '../drawing/pens.ts';
import { placeWithin } from '../drawing/place.ts';
import { svgOf } from '../drawing/svg.ts';
import { lengthText } from '../export/table.ts';
import { type FixingRow, finalChecks, markOutOf, orderOfWork, type WallMarks } from '../mark-out.ts';
import { boxRow, figure, text } from './html.ts';

/** Pixels of a millimetre on paper, so that the smallest letters of a drawing are as large as the text of the page. */
const pixels = 6;
/** Room for a drawing in millimetres: some widths of a phone across, at that scale. */
const room = [170, 190] as const;

export function unitSheet(drawable: Drawable, unit: Unit): string {
  const sheet = sectionsOf(drawable, unit);
  const isRounded = /~\d/.test(sheet);
  return isRounded ? `<p class="why">~ stands before a length that is finer than what is shown.</p>\n${sheet}` : sheet;
}

function sectionsOf(drawable: Drawable, unit: Unit): string {
  const { layout, fixings } = drawable;
  return [
    findings(drawable),
    drawings(drawable),
    marks(drawable),
    cuts(drawable, unit),
    work(drawable),
    section(
      'checks',
      'Final checks',
      finalChecks(layout)
        .map(({ what, wanted }, i) => {
          const should = wanted === undefined ? '' : ` ${figure(lengthText(wanted, drawable))}`;
          const key = `check ${i + 1} ${what}`;
          return `<div class="checked">${boxRow(key, `${text(what)}${should}`)}${note(`found ${key}`, `Found: ${what}`, 'found')}</div>`;
        })
        .join('\n'),
    ),
    measured(drawable),
    ...(fixings.without.length > 0
      ? [
          section(
            'without',
            'Nothing known to hold',
            `<p>${text(fixings.without.map(({ path }) => path).join(', '))}: no hardware is named. Do not hang or put anything on it before that is settled.</p>`,
          ),
        ]
      : []),
  ].join('\n');
}

function section(id: string, title: string, body: string): string {
  return body === '' ? '' : `<section id="${id}"><h2>${title}</h2>\n${body}\n</section>`;
}

function note(key: string, label: string, hint: string): string {
  return `<input class="note" type="text" autocomplete="off" data-note="${text(key)}" aria-label="${text(label)}" placeholder="${text(hint)}">`;
}

function findings({ findings: found }: Drawable): string {
  if (found.length === 0) return '';
  const items = found.map(
    ({ severity, message, advice }) =>
      `<li><strong>${severity}</strong> ${text(message)}${advice === undefined ? '' : ` <span class="why">${text(advice)}</span>`}</li>`,
  );
  return section('found', 'What was found', `<ol class="found">${items.join('')}</ol>`);
}

function drawings(drawable: Drawable): string {
  const all = drawingsOf(drawable);
  const scales = drawable.style === 'millimetres' ? metricScales : inchScales;
  const inOrder = [...all.filter(({ kind }) => kind === 'wall'), ...all.filter(({ kind }) => kind !== 'wall')];
  return section(
    'drawings',
    'Drawings',
    inOrder
      .map(({ kind, scene }) => {
        const placed = placeWithin(scene, room[0], room[1], scales);
        const keyed = placed.key.map(({ number, text: said }) => `<li value="${text(number)}">${text(said)}</li>`);
        return `<figure class="${kind}"><figcaption>${text(scene.title)}</figcaption><div class="sheet" tabindex="0" role="region" aria-label="${text(scene.title)}, to be scrolled">${inPage(svgOf(placed, { background: 'page' }), placed.width, placed.height)}</div>${keyed.length > 0 ? `<ol>${keyed.join('')}</ol>` : ''}</figure>`;
      })
      .join('\n'),
  );
}

/** The style of drawings stands once in the page, whose policy lets no other in; sizes are those of a screen. */
function inPage(svg: string, width: number, height: number): string {
  return svg
    .replace(/^<!--.*?-->\s*/s, '')
    .replace(/<style>.*?<\/style>\s*/s, '')
    .replace(
      / width="[^"]*" height="[^"]*"/,
      ` width="${Math.round(width * pixels)}" height="${Math.round(height * pixels)}"`,
    );
}

/** The rules that drawings bring along, taken from one of nothing. */
export function drawingStyle(): string {
  const empty = svgOf({ title: '', width: 1, height: 1, scale: 1, groups: [], key: [] }, { background: 'page' });
  return /<style>(.*?)<\/style>/s.exec(empty)?.[1] ?? '';
}

function marks(drawable: Drawable): string {
  const { walls, inParts, screws } = markOutOf(drawable.layout, drawable.fixings);
  const parts = inParts.map(({ part, hardware, count }) =>
    boxRow(
      `part ${part} ${hardware}`,
      `${figure(`${count} ×`)} ${text(hardware)} <span class="why">for ${text(part)}</span>`,
    ),
  );
  const screwed = screws.map(
    ({ size, into, hardware, count }) =>
      `<li>${figure(`${count} ×`)} ${text(size)} <span class="why">${text(hardware)}, into the ${into}</span></li>`,
  );
  return [
    section('marks', 'Mark-out', walls.map((wall) => wallMarks(wall, drawable)).join('\n')),
    section('hardware', 'Hardware in parts', parts.join('\n')),
    section('screws', 'Screws', screwed.length > 0 ? `<ul class="plain">${screwed.join('')}</ul>` : ''),
  ].join('\n');
}

function wallMarks(wall: WallMarks, drawable: Drawable): string {
  const said = (length: Ticks): string => figure(lengthText(length, drawable));
  const { name, length, longest, isMeasured, studs, studsFrom, lines, rods, fixings } = wall;
  const heights = Map.groupBy(fixings, ({ height }) => height);
  const levels = lines.map(({ height, from, length: long, shelves }) =>
    boxRow(
      `line ${name} ${height} ${from}`,
      `Line at ${said(height)} <span class="why">from ${said(from)} for ${said(long)}: underside of ${text(shelves.join(', '))}</span>`,
    ),
  );
  const rodRows = rods.map(({ path, height, fromWall, from, to }) =>
    boxRow(
      `rod ${path}`,
      `Rod centre at ${said(height)} <span class="why">${text(path)}, ${said(fromWall)} from the wall, from ${said(from)} to ${said(to)}</span>`,
    ),
  );
  const most = longest === length ? '' : ` to ${said(longest)}`;
  const at = [...heights].map(
    ([height, own]) =>
      `<h4>At ${said(height)}</h4>${own.map((fixing) => fixingRow(fixing, name, drawable)).join('\n')}`,
  );
  const found =
    studsFrom === undefined
      ? '<p>Nothing says where its studs are. Find them before anything is fixed.</p>'
      : studs.length === 0
        ? '<p>No studs.</p>'
        : `<p>Studs, middle from the left corner, ${studsFrom === 'survey' ? 'as measured' : 'as drawn, not measured'}: ${studs.map(said).join(' ')}</p>`;
  return `<h3>${text(capital(name))} wall, ${said(length)}${most} ${isMeasured ? 'as measured' : 'as drawn, not measured'}</h3>
<p class="why">All from the left corner, facing the wall, and up from the highest point of the floor.</p>
${found}
${[...levels, ...rodRows, ...at].join('\n')}`;
}

function fixingRow(
  { part, hardware, fromLeft, fromRight, height, out, holds, moved }: FixingRow,
  wall: string,
  drawable: Drawable,
): string {
  const said = (length: Ticks): string => lengthText(length, drawable);
  const into =
    holds.in === 'stud'
      ? `into the stud at ${said(holds.stud)}`
      : holds.in === 'anchor'
        ? `no stud: ${holds.anchor ?? 'an anchor'}`
        : holds.in === 'bracket'
          ? 'hangs from its bracket'
          : 'stud not known: find it, or set an anchor';
  const more = [
    ...(moved === 0 ? [] : [`moved ${said(ticks(Math.abs(moved)))} to the ${moved > 0 ? 'right' : 'left'} to meet it`]),
    ...(out === 0 ? [] : [`${said(out)} out from the wall`]),
    `${said(fromRight)} from the right`,
  ];
  return boxRow(
    `fixing ${wall} ${part} ${hardware} ${fromLeft} ${height}`,
    `${figure(said(fromLeft))} ${text(hardware)} <span class="why">for ${text(part)}; ${text([into, ...more].join('; '))}</span>`,
  );
}

function cuts(drawable: Drawable, unit: Unit): string {
  const lines = cutLines([{ ...unit, count: 1 }]);
  return section(
    'cuts',
    'Cut list',
    lines
      .map(({ material, length, depth, thickness, count, uses }) => {
        const size = [
          ...(depth === undefined ? [] : [`${lengthText(depth, drawable)} deep`]),
          ...(thickness === undefined ? [] : [`${lengthText(thickness, drawable)} thick`]),
        ].join(', ');
        const places = pathsText(uses.map(({ path }) => path));
        return boxRow(
          `cut ${material} ${length} ${depth ?? ''}`,
          `${figure(`${count} × ${lengthText(length, drawable)}`)} ${text(material)} <span class="why">${text(size === '' ? places : `${size}: ${places}`)}</span>`,
        );
      })
      .join('\n'),
  );
}

function work({ layout, fixings }: Drawable): string {
  return section(
    'work',
    'Order of work',
    orderOfWork(layout, fixings)
      .map(({ title, lines }, i) =>
        boxRow(`work ${title}`, `<b>${i + 1}. ${text(title)}</b> <span class="why">${text(lines.join(' '))}</span>`),
      )
      .join('\n'),
  );
}

/** Three heights of each wall, from the floor up; those that were measured before, where there are some. */
function measured(drawable: Drawable): string {
  const { layout } = drawable;
  const rows = layout.walls.map(({ name, length, height, readings }) => {
    const before = readings.flatMap(({ at }) => (at === undefined ? [] : [at])).sort((a, b) => a - b);
    const middle = before[Math.floor(before.length / 2)];
    const [low, high] = [before[0], before.at(-1)];
    const heights =
      before.length < 3 || low === undefined || middle === undefined || high === undefined
        ? usualHeights(drawable, height)
        : [low, middle, high];
    const fields = heights.map((at, i) => {
      const key = `${name} ${i + 1}`;
      return `<div class="reading"><label>at <input type="text" autocomplete="off" data-note="height ${text(key)}" value="${text(lengthText(at, drawable))}"></label> <label>length <input type="text" autocomplete="off" data-note="length ${text(key)}" data-wall="${text(name)}"></label><p class="wrong" hidden></p></div>`;
    });
    return `<fieldset><legend>${text(capital(name))} wall, ${text(lengthText(length, drawable))} ${readings.length > 0 ? 'as measured before' : 'as drawn'}</legend>${fields.join('\n')}</fieldset>`;
  });
  const unit = drawable.show.system === 'inches' ? 'inches: 96-3/16, 96.25 or 8ft 1/4' : 'millimetres: 2440 or 2440.5';
  return section(
    'measured',
    'What was measured',
    rows.length === 0 ? '' : `<p>Each wall from its left corner to its right one, in ${unit}.</p>\n${rows.join('\n')}`,
  );
}

/** Above the baseboard, at the hip, and at the highest shelf that a hand reaches. Common practice, no source. */
function usualHeights({ show }: Drawable, height: Ticks | undefined): Ticks[] {
  const usual = show.system === showInches.system ? [6, 42, 84].map(inches) : [150, 1050, 2100].map(millimetres);
  if (height === undefined || height > (usual.at(-1) as Ticks)) return usual;
  const step = show.system === 'inches' ? inches(1) : millimetres(10);
  return [1, 3, 5].map((part) => roundDown(ticks(Math.floor((height * part) / 6)), step));
}
