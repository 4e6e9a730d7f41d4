/** A cutting plan as it hangs at the saw: each way to cut a board drawn to scale, and below it every piece with its part. */
import { capital } from '../../model/capital.ts';
import { TICKS_PER_MM, type Ticks, ticks } from '../../model/ticks.ts';
import { inchScales, metricScales, scaleText } from '../drawing/pens.ts';
import { place } from '../drawing/place.ts';
import { footText, type Job, said } from '../packet/job.ts';
import { isRounded } from '../packet/packet.ts';
import { createPdf } from '../pdf/document.ts';
import { Flow, sizes } from '../pdf/flow.ts';
import { framed, marginsFor } from '../pdf/frame.ts';
import type { Lettering } from '../pdf/lettering.ts';
import { type PageContent, papers } from '../pdf/page.ts';
import { boardScene } from './board-scene.ts';
import type { BoardPiece, CutBoard } from './boards.ts';

/** Boards cut one after another in one way. */
interface Alike {
  readonly first: CutBoard;
  readonly boards: readonly CutBoard[];
}

export function boardPages(job: Job, lettering: Lettering): PageContent[] {
  const banner = job.hasErrors
    ? 'DO NOT CUT BY THIS SHEET: there are errors in the project. Run storypole check'
    : undefined;
  const flow = new Flow(papers[job.paper], marginsFor(banner !== undefined), lettering);
  const { boards, uncut } = job.boards;
  flow.keep(0);
  flow.bookmark('Cutting by boards', 0);
  flow.text(
    'Each board has a number: write it on the board. Cut its pieces from the left in the order of their numbers, and write board and piece on each as it comes off the saw.',
  );
  flow.text(
    'Eyes, ears and lungs protected, guards on, a push stick for what is short, offcuts clear of the blade. Check the first piece of each setting against the tape before you cut the rest.',
  );
  if (boards.length === 0) flow.text('Nothing is to be cut, or there is no stock to cut it from.', { bold: true });
  for (const [material, own] of Map.groupBy(boards, (board) => board.material)) addMaterial(flow, material, own, job);
  if (uncut.length > 0) {
    flow.bookmark('Not cut', 1);
    flow.heading('Not cut');
    flow.table(
      [
        { title: 'pieces', align: 'right' },
        { title: 'length', align: 'right' },
        { title: 'material', align: 'left' },
        { title: 'why', align: 'left', grows: 1 },
      ],
      uncut.map(({ quantity, length, material, reason }) => ({
        cells: [String(quantity), said(length, job), material, reason],
      })),
      { about: 'Not cut' },
    );
  }
  if (isRounded(flow.made)) flow.text('~ stands before a length that is finer than what is shown.');
  return framed(
    flow.made,
    { above: job.title, title: 'Cutting by boards', kind: 'For the shop', foot: footText(job), banner },
    lettering,
  );
}

function addMaterial(flow: Flow, material: string, boards: readonly CutBoard[], job: Job): void {
  const [first] = boards;
  if (!first) return;
  flow.bookmark(material, 1);
  flow.heading(`${material}: ${boards.length} ${first.kind}${boards.length === 1 ? '' : 's'}`, { with: 50 });
  flow.table(
    [
      { title: `${first.kind}s`, align: 'right' },
      { title: 'of', align: 'right' },
      { title: '', align: 'left' },
      { title: 'numbers', align: 'left', grows: 1 },
    ],
    [...Map.groupBy(boards, ({ stock }) => stock.id)].map(([, own]) => ({
      cells: [
        { text: String(own.length), bold: true },
        said((own[0] as CutBoard).stock.length, job),
        own[0]?.stock.offcut ? 'from the rack' : 'to buy',
        numbersText(own),
      ],
    })),
  );
  const longest = boards.reduce((most, { stock }) => Math.max(most, stock.length), 0);
  for (const alike of inGroups(boards)) addPattern(flow, alike, ticks(longest), job);
}

function inGroups(boards: readonly CutBoard[]): Alike[] {
  return [...Map.groupBy(boards, ({ pattern }) => pattern).values()].flatMap((own) =>
    own[0] ? [{ first: own[0], boards: own }] : [],
  );
}

function addPattern(flow: Flow, { first, boards }: Alike, longest: Ticks, job: Job): void {
  const placed = boardDrawing(first, longest, flow.width, job);
  const many = boards.length;
  const title = `${many === 1 ? first.kind : `${first.kind}s`} ${numbersText(boards)}${many === 1 ? '' : `, ${many} times`}: ${said(first.stock.length, job)}`;
  flow.keep(placed.height + 34);
  flow.heading(capital(title), { size: 2.7, with: placed.height + 20 });
  flow.drawing(placed);
  flow.text(patternText(first, job, placed.scale), { height: sizes.small });
  flow.table(
    [
      { title: '', align: 'left' },
      { title: first.kind, align: 'right' },
      { title: 'piece', align: 'right' },
      { title: 'length', align: 'right' },
      { title: 'part', align: 'left' },
      { title: 'unit', align: 'left', grows: 1 },
    ],
    boards.flatMap((board) =>
      board.pieces.map((piece, i) => ({
        cells: [
          { tick: true } as const,
          { text: i === 0 ? String(board.number) : '', bold: true },
          String(piece.number),
          { text: said(piece.length, job), bold: true },
          partText(piece),
          unitText(piece),
        ],
      })),
    ),
    { about: capital(title) },
  );
}

/** At the largest scale at which the longest board has room, so that all of a material are drawn alike. */
export function boardDrawing(board: CutBoard, longest: Ticks, width: number, job: Pick<Job, 'show' | 'style'>) {
  const scene = boardScene(board, job, longest);
  const scales = job.style === 'millimetres' ? metricScales : inchScales;
  const mm = longest / TICKS_PER_MM;
  const scale = scales.find((one) => mm / one <= width - 4) ?? (scales.at(-1) as number);
  return place(scene, scale);
}

function patternText({ trim, kerf, pattern, kind }: CutBoard, job: Job, scale: number): string {
  const trims = trim > 0 ? `Trim ${said(trim, job)} off each end first. ` : '';
  const left =
    pattern.offcut === 0
      ? 'Nothing is left over.'
      : pattern.keep
        ? `What is left, ${said(pattern.offcut, job)}, goes back to the rack: mark its length.`
        : `What is left, ${said(pattern.offcut, job)}, is waste.`;
  return `${trims}Each cut takes ${said(kerf, job)}. ${left} The ${kind} is drawn ${scaleText(scale, job.style === 'millimetres')} along its length.`;
}

export function partText({ use, spare, matched }: BoardPiece): string {
  const part = use?.path ?? (spare === undefined ? '' : `spare ${spare}`);
  return matched === undefined ? part : `${part} (matched: ${matched})`;
}

export function unitText({ use }: Pick<BoardPiece, 'use'>): string {
  if (!use) return '';
  if (use.isLoose) return use.of > 1 ? `loose part ${use.copy} of ${use.of}` : 'loose part';
  return use.of > 1 ? `${use.unit}, ${use.copy} of ${use.of}` : use.unit;
}

/** `3 to 7, 12`. */
export function numbersText(boards: readonly Pick<CutBoard, 'number'>[]): string {
  const runs: [number, number][] = [];
  for (const { number } of boards) {
    const last = runs.at(-1);
    if (last && last[1] + 1 === number) last[1] = number;
    else runs.push([number, number]);
  }
  return runs
    .map(([from, to]) => (from === to ? String(from) : to === from + 1 ? `${from}, ${to}` : `${from} to ${to}`))
    .join(', ');
}

export function* boardFile(job: Job, lettering: Lettering): Generator<Uint8Array> {
  const title = `Cutting by boards, ${job.title}`;
  const pdf = createPdf({ title, subject: job.title, creator: job.creator, date: job.date }, lettering);
  for (const page of boardPages(job, lettering)) {
    pdf.addPage(page);
    yield* pdf.taken();
  }
  yield* pdf.end();
}
