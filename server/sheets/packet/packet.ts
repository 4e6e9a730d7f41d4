/** The install packet of a unit: what a crew takes along, from the cover to the checks. */

import type { Finding } from '../../model/finding.ts';
import type { Project, Unit } from '../../model/project.ts';
import { cautionsOf } from '../cautions.ts';
import { unitHeading } from '../cut-list.ts';
import type { Drawable, LengthStyle } from '../drawing/drawable.ts';
import { builtFrom, drawableOf, drawingsOf, openFindings } from '../drawing/drawings.ts';
import { planNote } from '../drawing/room-plan.ts';
import type { Scene } from '../drawing/scene.ts';
import { createPdf, type DocumentInfo } from '../pdf/document.ts';
import { Flow, sizes } from '../pdf/flow.ts';
import { framed, marginsFor } from '../pdf/frame.ts';
import type { Lettering } from '../pdf/lettering.ts';
import { type PageContent, papers } from '../pdf/page.ts';
import { naming } from '../too-much.ts';
import { addChecks, addCutList, addOrder } from './crew.ts';
import { addDrawing } from './drawings.ts';
import { bannerText, errorsIn, footText, type Job, type PacketUnit } from './job.ts';
import { addMarkOut } from './mark-out.ts';

/**
 * What is put in the packet of a unit. `ofPlan` is what the cutting plan found about it: a crew is told what is wrong,
 * not how the buyer saves.
 */
export function packetOf(project: Project, unit: Unit, style: LengthStyle, ofPlan: readonly Finding[]): PacketUnit {
  const drawable = drawableOf(project, unit, style);
  const found = drawable?.findings ?? openFindings(project, unit);
  return { unit, drawable, findings: [...found, ...ofPlan.filter(({ severity }) => severity !== 'note')] };
}

/** Pages of one unit; `inFile` is the number of its first page where the file holds more units. */
export function packetPages(packet: PacketUnit, job: Job, lettering: Lettering, inFile?: number): PageContent[] {
  const { unit, drawable, findings } = packet;
  const banner = bannerText(errorsIn(findings), job.hasErrors);
  const flow = (): Flow => new Flow(papers[job.paper], marginsFor(banner !== undefined), lettering);
  const body = flow();
  const sections: Section[] = [];
  if (drawable) addSheets(body, sections, unit, drawable, job);
  const rest = body.made;
  // The cover says on which page things are, and mostly takes one page itself.
  let cover: readonly PageContent[] = [];
  for (let pages = 1; cover.length !== pages; ) {
    if (cover.length > 0) pages = cover.length;
    const own = flow();
    addCover(own, packet, job, sections, pages);
    if (isRounded(rest)) own.text('~ stands before a length that is finer than what is shown.');
    cover = own.made;
  }
  const where = [unit.floor && `floor ${unit.floor}`, unit.flat && `flat ${unit.flat}`].filter((text) => text);
  const frame = {
    above: [job.title, ...where].join(', '),
    title: `Unit ${unit.name}`,
    kind: 'Install packet',
    foot: footText(job),
    banner,
    ...(inFile !== undefined && { inFile: { first: inFile } }),
  };
  return framed([...cover, ...rest], frame, lettering);
}

export function isRounded(pages: readonly PageContent[]): boolean {
  return pages.some(({ marks }) => marks.some((mark) => mark.kind === 'text' && mark.text.startsWith('~')));
}

interface Section {
  readonly title: string;
  /** Counted from the first page behind the cover. */
  readonly page: number;
}

function addSheets(flow: Flow, sections: Section[], unit: Unit, drawable: Drawable, job: Job): void {
  const { layout, fixings } = drawable;
  const section = (title: string, add: () => void): void => {
    const before = flow.made.length;
    add();
    if (flow.made.length > before) sections.push({ title, page: before });
  };
  const note = planNote(drawable);
  for (const { kind, scene } of drawingsOf(drawable)) {
    if (kind === 'section') continue;
    const notes = [...(kind === 'plan' && note !== undefined ? [note] : []), ...foundIn(scene, drawable.findings)];
    section(scene.title, () => addDrawing(flow, scene, job, notes));
  }
  section('Mark-out', () => addMarkOut(flow, layout, fixings, job));
  section('Cut list', () => addCutList(flow, unit, layout, job));
  section('Order of work and checks', () => {
    addOrder(flow, layout, fixings);
    addChecks(flow, layout, job);
  });
}

/** What the numbers in a drawing say. */
function foundIn({ figures }: Scene, findings: readonly Finding[]): string[] {
  const numbers = new Set<string>();
  for (const { shapes } of figures)
    for (const shape of shapes)
      if (shape.kind === 'symbol' && shape.symbol === 'finding')
        for (const number of (shape.text ?? '').split(',')) numbers.add(number.trim());
  return findings.flatMap(({ severity, message }, i) =>
    numbers.has(String(i + 1)) ? [`${i + 1} (${severity}): ${message}`] : [],
  );
}

function addCover(
  flow: Flow,
  { unit, drawable, findings }: PacketUnit,
  job: Job,
  sections: readonly Section[],
  coverPages: number,
): void {
  flow.bookmark(unitHeading(unit), 0);
  flow.heading(unit.name, { size: sizes.title, with: 40 });
  const rows = facts({ unit, drawable, findings }, job).map(([what, value]) => ({
    cells: [what, { text: value, bold: true }],
  }));
  flow.table(
    [
      { title: '', align: 'left', atLeast: 34 },
      { title: '', align: 'left', grows: 1 },
    ],
    rows,
    { hasHead: false },
  );
  if (!drawable) flow.text('This unit cannot be worked out: its template is not known, or has errors.', { bold: true });
  addFindings(flow, findings);
  if (drawable) {
    flow.heading('Cautions', { with: 20 });
    for (const text of cautionsOf(drawable.layout, drawable.fixings)) flow.text(`•  ${text}`);
  }
  if (sections.length > 0) {
    flow.heading('In this packet', { with: sections.length * 5 });
    flow.table(
      [
        { title: 'sheet', align: 'left' },
        { title: 'page', align: 'right' },
      ],
      sections.map(({ title, page }) => ({ cells: [title, String(page + 1 + coverPages)] })),
    );
  }
}

function facts({ unit, drawable, findings }: PacketUnit, job: Job): [string, string][] {
  const measured = drawable?.layout.walls.filter(({ readings }) => readings.length > 0).map(({ name }) => name) ?? [];
  const rows: [string, string | undefined][] = [
    ['Project', job.title],
    ['Built from', builtFrom(unit)],
    ['Floor', unit.floor],
    ['Flat', unit.flat],
    ['Phase', unit.phase],
    ['How many', unit.count === 1 ? undefined : `${unit.count} alike`],
    [
      'Measured',
      drawable &&
        (measured.length > 0
          ? `${measured.join(', ')} ${measured.length === 1 ? 'wall' : 'walls'}`
          : 'nothing: measure before anything is cut'),
    ],
    ['Revision', job.revision ?? 'none: not kept in git'],
    ['Date', job.day],
    ['Findings', countsOf(findings)],
  ];
  return rows.filter((row): row is [string, string] => row[1] !== undefined && row[1] !== '');
}

function countsOf(findings: readonly Finding[]): string {
  const counts = (['error', 'warning', 'note'] as const).flatMap((severity) => {
    const count = findings.filter((finding) => finding.severity === severity).length;
    return count === 0 ? [] : [`${count} ${severity}${count === 1 ? '' : 's'}`];
  });
  return counts.length === 0 ? 'none' : counts.join(', ');
}

function addFindings(flow: Flow, findings: readonly Finding[]): void {
  if (findings.length === 0) return;
  flow.heading('What was found');
  flow.table(
    [
      { title: 'no.', align: 'right' },
      { title: '', align: 'left' },
      { title: 'what is wrong, and what to do', align: 'left', grows: 1 },
    ],
    findings.map(({ severity, message, advice }, i) => ({
      cells: [
        String(i + 1),
        { text: severity, bold: severity === 'error' },
        advice === undefined ? message : `${message} ${advice}`,
      ],
    })),
    { height: 2.1, about: 'What was found' },
  );
}

export function infoOf(job: Job, subject: string): DocumentInfo {
  return { title: `${subject}, ${job.title}`, subject: job.title, creator: job.creator, date: job.date };
}

/** A file of one packet after the other, in pieces. `onUnit` is told how many are done. */
export function* packetFile(
  packets: Iterable<PacketUnit>,
  count: number,
  job: Job,
  lettering: Lettering,
  subject: string,
  onUnit: (done: number) => void = () => undefined,
): Generator<Uint8Array> {
  const pdf = createPdf(infoOf(job, subject), lettering);
  let [pages, done] = [0, 0];
  for (const packet of packets) {
    const own = naming(`Unit "${packet.unit.name}"`, () =>
      packetPages(packet, job, lettering, count > 1 ? pages + 1 : undefined),
    );
    for (const page of own) {
      pdf.addPage(page);
      pages++;
    }
    yield* pdf.taken();
    onUnit(++done);
  }
  yield* pdf.end();
}
