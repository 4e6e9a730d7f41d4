/** Drawings of a packet: each on a page of its own that lies so that it comes out largest, with its scale. */
import type { Mark, Placed } from '../drawing/paper.ts';
import { placeWithin } from '../drawing/place.ts';
import type { Scene, SymbolKind } from '../drawing/scene.ts';
import { type Flow, lineOf, movedBy, sizes } from '../pdf/flow.ts';
import type { Job } from './job.ts';

/** Heading above, scale and symbols below. */
const around = 30;
/** For each line of what is listed by number. */
const keyLine = 4.5;

export function addDrawing(flow: Flow, scene: Scene, job: Job, notes: readonly string[] = []): void {
  const below = around + notes.length * keyLine * 2;
  const [upright, turned] = [false, true].map((isTurned) => {
    const { width, height } = flow.roomFor(isTurned);
    const placed = fitted(placeWithin(scene, width, height - below), width, height - below);
    if (placed.key.length === 0) return placed;
    const less = below + Math.ceil(placed.key.length / 3) * keyLine + 6;
    return fitted(placeWithin(scene, width, height - less), width, height - less);
  }) as [Placed, Placed];
  const isTurned = scaleOf(turned) < scaleOf(upright);
  const placed = isTurned ? turned : upright;
  flow.pageFor(isTurned);
  flow.bookmark(scene.title, 1);
  flow.heading(scene.title, { with: 0 });
  flow.space(2);
  flow.drawing(placed);
  flow.space(3);
  flow.strip(scaleMarks(placed.scale, job, flow), 7);
  const symbols = symbolsIn(scene);
  if (symbols.length > 0) flow.strip(symbolMarks(symbols, flow), 7);
  if (placed.key.length > 0)
    flow.text(`In the drawing: ${placed.key.map(({ number, text }) => `${number} = ${text}`).join('; ')}.`, {
      height: sizes.small,
    });
  for (const note of notes) flow.text(note, { height: sizes.small });
}

/** Where nothing is to scale, it counts as the smallest there is. */
function scaleOf({ scale }: Placed): number {
  return scale === 0 ? Infinity : scale;
}

/** What has no room at any scale is made smaller, and is not to scale then. */
function fitted(placed: Placed, width: number, height: number): Placed {
  const share = Math.min(1, width / placed.width, height / placed.height);
  if (share === 1) return placed;
  const at = ([x, y]: readonly [number, number]): readonly [number, number] => [x * share, y * share];
  const smaller = (mark: Mark): Mark => {
    switch (mark.kind) {
      case 'path':
        return { ...mark, points: mark.points.map(at), width: mark.width * share };
      case 'text':
        return { ...mark, at: at(mark.at), height: mark.height * share, width: mark.width * share };
      default:
        return { ...mark, centre: at(mark.centre), radius: mark.radius * share };
    }
  };
  const groups = placed.groups.map((group) => ({ ...group, marks: group.marks.map(smaller) }));
  return { ...placed, groups, width: placed.width * share, height: placed.height * share, scale: 0 };
}

/** `Scale 1:20`, and a bar of feet or of half metres. */
function scaleMarks(scale: number, { style }: Job, flow: Flow): Mark[] {
  if (scale === 0) return [lineOf('Not to scale', [0, 3], { height: sizes.text, bold: true }, flow.lettering)];
  const face = { height: sizes.text, bold: true };
  const unit = style === 'millimetres' ? 500 : 304.8;
  const each = unit / scale;
  const step = [1, 2, 5, 10, 20, 50].find((many) => many * each >= 8) ?? 100;
  const count = Math.max(1, Math.min(4, Math.floor(70 / (each * step))));
  const start = 40;
  const marks: Mark[] = [lineOf(`Scale 1:${scale}`, [0, 4.5], face, flow.lettering)];
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
    const many = i * step;
    const text = style === 'millimetres' ? String(many * 500) : i === 0 ? '0' : `${many}'`;
    marks.push(lineOf(text, [start + i * each * step, 2], { height: sizes.small }, flow.lettering, 'middle'));
  }
  return marks;
}

const meanings: Readonly<Record<SymbolKind, string>> = {
  stud: 'fixed into a stud',
  anchor: 'anchor, no stud here',
  loose: 'fixed into a part',
  unknown: 'nothing says where studs are',
  finding: 'finding, by its number on the cover',
};

function symbolsIn(scene: Scene): SymbolKind[] {
  const found = new Set<SymbolKind>();
  for (const { shapes } of scene.figures)
    for (const shape of shapes) if (shape.kind === 'symbol') found.add(shape.symbol);
  return (Object.keys(meanings) as SymbolKind[]).filter((kind) => found.has(kind));
}

/** Drawn as they stand in the drawing: placed by themselves. */
function symbolMarks(kinds: readonly SymbolKind[], flow: Flow): Mark[] {
  const marks: Mark[] = [];
  let x = 0;
  for (const symbol of kinds) {
    const scene: Scene = {
      title: '',
      view: 'board',
      figures: [{ layer: 'fixings', shapes: [{ kind: 'symbol', symbol, at: [0, 0], text: 'n' }] }],
      labels: [],
      chains: [],
    };
    const placed = placeWithin(scene, 20, 20);
    const own = placed.groups.flatMap((group) => group.marks);
    const half = placed.width / 2;
    // It stands in the middle of what it covers.
    marks.push(...own.map((mark) => movedBy(mark, x + 2.5 - half, 3 - placed.height / 2)));
    const text = lineOf(meanings[symbol], [x + 6.5, 3.9], { height: sizes.small }, flow.lettering);
    marks.push(text);
    x += 6.5 + (text.kind === 'text' ? text.width : 0) + 6;
  }
  return marks;
}
