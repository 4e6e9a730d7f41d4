/** Drawings of a packet: each on a page of its own that lies so that it comes out largest, with its scale. */
import type { LengthStyle } from '../drawing/drawable.ts';
import { legendOf, type Meaning } from '../drawing/legend.ts';
import { shrunk } from '../drawing/page.ts';
import type { Mark, Placed } from '../drawing/paper.ts';
import { inchScales, metricScales, scaleText } from '../drawing/pens.ts';
import { placeWithin } from '../drawing/place.ts';
import type { Scene } from '../drawing/scene.ts';
import { type Flow, lineOf, sizes } from '../pdf/flow.ts';
import { measured } from '../pdf/wrap.ts';
import type { Job } from './job.ts';

/** Heading and scale. */
const around = 24;
/** A line of symbols, and of what is listed by number. */
const symbolLine = 5.2;
const keyLine = 4.5;

export function addDrawing(flow: Flow, scene: Scene, job: Job, notes: readonly string[] = []): void {
  const meanings = legendOf([scene]);
  const [upright, turned] = [false, true].map((isTurned) => {
    const { width, height } = flow.roomFor(isTurned);
    const symbols = symbolRows(meanings, width, flow).length * symbolLine;
    let placed: Placed | undefined;
    // What has no room in the drawing is listed below it, which takes room itself.
    for (let listed = 0, tries = 0; tries < 3; tries++) {
      const below = around + symbols + (notes.length + listed) * keyLine;
      placed = within(scene, width, height - below, job.style);
      const lines = linesBelow(placed, notes, width, flow);
      if (lines <= listed + notes.length) break;
      listed = lines - notes.length;
    }
    return placed as Placed;
  }) as [Placed, Placed];
  const isTurned = turned.scale < upright.scale;
  const placed = isTurned ? turned : upright;
  flow.pageFor(isTurned);
  flow.bookmark(scene.title, 1);
  flow.heading(scene.title, { with: 0 });
  flow.drawing(placed);
  flow.space(2);
  flow.strip(scaleMarks(placed.scale, job, flow), 7);
  for (const row of symbolRows(meanings, flow.width, flow)) flow.strip(row, symbolLine);
  for (const text of [...keyTexts(placed), ...notes]) flow.text(text, { height: sizes.small });
}

/** The largest scale at which it has room; where it has at none, the whole smaller still. */
function within(scene: Scene, width: number, height: number, style: LengthStyle): Placed {
  const placed = placeWithin(scene, width, height, style === 'millimetres' ? metricScales : inchScales);
  const share = Math.min(1, width / placed.width, height / placed.height);
  return share === 1 ? placed : shrunk(placed, share);
}

function keyTexts({ key, notes = [] }: Placed): string[] {
  const listed = key.map(({ number, text }) => `${number} = ${text}`).join('; ');
  return [...(listed === '' ? [] : [`In the drawing: ${listed}.`]), ...notes];
}

/** About how many lines are listed below. */
function linesBelow(placed: Placed, notes: readonly string[], width: number, flow: Flow): number {
  const lines = [...keyTexts(placed), ...notes].map((text) => {
    return (
      Math.ceil((measured(flow.lettering.clean(text), { height: sizes.small }, flow.lettering) * 1.1) / width) + 0.4
    );
  });
  return lines.reduce((sum, one) => sum + one, 0);
}

/** `Scale 1:20`, and a bar of feet or of half metres. */
function scaleMarks(scale: number, { style }: Job, flow: Flow): Mark[] {
  const isMetric = style === 'millimetres';
  const said = lineOf(
    `Scale ${scaleText(scale, isMetric)}`,
    [0, 4.5],
    { height: sizes.text, bold: true },
    flow.lettering,
  );
  const each = (isMetric ? 500 : 304.8) / scale;
  const step = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000].find((many) => many * each >= 10) ?? 2000;
  const count = Math.max(1, Math.min(4, Math.floor(75 / (each * step))));
  const start = (said.kind === 'text' ? said.width : 0) + 8;
  const marks: Mark[] = [said];
  for (let i = 0; i < count; i++) {
    const [from, to] = [start + i * each * step, start + (i + 1) * each * step];
    const points = [
      [from, 3],
      [to, 3],
      [to, 4.5],
      [from, 4.5],
    ] as const;
    marks.push({ kind: 'path', points, closed: true, width: 0.2, ground: i % 2 === 0 ? 'ink' : 'paper' });
  }
  for (let i = 0; i <= count; i++) {
    const text = i === 0 ? '0' : isMetric ? String(i * step * 500) : `${i * step}'`;
    const at = [start + i * each * step, 2.2] as const;
    marks.push(lineOf(text, at, { height: sizes.small }, flow.lettering, 'middle'));
  }
  return marks;
}

/** Symbols beside what they mean, as many in a row as have room. */
function symbolRows(meanings: readonly Meaning[], width: number, flow: Flow): Mark[][] {
  const rows: Mark[][] = [];
  let x = Infinity;
  for (const { text, sample } of meanings) {
    const face = { height: sizes.small };
    const own = 11 + measured(flow.lettering.clean(text), face, flow.lettering);
    if (x + own > width) {
      rows.push([]);
      x = 0;
    }
    rows.at(-1)?.push(...sample([x + 4, 2.6]), lineOf(text, [x + 9.5, 3.5], face, flow.lettering));
    x += own + 5;
  }
  return rows;
}
