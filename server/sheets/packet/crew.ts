/** What a crew cuts, in which order it works, and what it measures when it is done. */
import type { Fixings } from '../../checks/fixings/schedule.ts';
import type { Layout, Part } from '../../model/layout.ts';
import type { Unit } from '../../model/project.ts';
import { finalChecks, orderOfWork } from '../mark-out.ts';
import type { Flow } from '../pdf/flow.ts';
import { slotsText } from '../shop/boards.ts';
import { type Job, said } from './job.ts';

const tick = { tick: true } as const;

export function addCutList(flow: Flow, unit: Unit, { parts }: Layout, job: Job): void {
  if (parts.length === 0) return;
  flow.newPage();
  flow.bookmark('Cut list', 1);
  flow.heading('Cut list');
  const { withoutStock } = job.boards;
  const missing = [...new Set(parts.map(({ material }) => material))].filter((name) => withoutStock.has(name));
  if (missing.length > 0)
    flow.text(`No stock is declared of ${missing.join(', ')}, so nothing says which boards these parts come from.`, {
      bold: true,
    });
  const many = unit.count > 1;
  if (many)
    flow.text(`There are ${unit.count} of this unit: cut each part as often as the table says.`, { bold: true });
  flow.text(
    'Finished lengths. Numbers of boards and of their pieces are those of the cutting plan of the whole project: storypole boards draws it.',
  );
  flow.table(
    [
      { title: '', align: 'left' },
      ...(many ? [{ title: 'count', align: 'right' } as const] : []),
      { title: 'length', align: 'right' },
      { title: 'depth', align: 'right' },
      { title: 'thick', align: 'right' },
      { title: 'material', align: 'left' },
      { title: 'part', align: 'left', grows: 1 },
      { title: 'comes from', align: 'left' },
    ],
    inOrder(parts).map((part) => ({
      cells: [
        tick,
        ...(many ? [String(unit.count)] : []),
        { text: said(part.length, job), bold: true },
        part.depth === undefined ? '' : said(part.depth, job),
        part.thickness === undefined ? '' : said(part.thickness, job),
        part.material,
        part.matched ? `${part.path} (matched: ${part.matched.set})` : part.path,
        fromText(unit, part, job),
      ],
    })),
    { about: 'Cut list' },
  );
}

/** Boards before rods, by material, the longest first. */
function inOrder(parts: readonly Part[]): Part[] {
  return parts.toSorted(
    (a, b) =>
      Number(a.kind === 'rod') - Number(b.kind === 'rod') ||
      (a.material < b.material ? -1 : a.material > b.material ? 1 : 0) ||
      b.length - a.length,
  );
}

function fromText(unit: Unit, part: Part, { boards }: Job): string {
  const slots = boards.slotsOf(unit.name, part.path);
  const found = slotsText(slots);
  if (slots.length >= unit.count) return found;
  if (boards.withoutStock.has(part.material)) return 'no stock';
  const reason = boards.uncut.find(
    ({ material, length }) => material === part.material && length === part.length,
  )?.reason;
  const missing = `${unit.count > 1 ? `${unit.count - slots.length} ` : ''}not planned${reason === undefined ? '' : `: ${reason}`}`;
  return found === '' ? missing : `${found}; ${missing}`;
}

export function addOrder(flow: Flow, layout: Layout, fixings: Fixings): void {
  flow.newPage();
  flow.bookmark('Order of work and checks', 1);
  flow.heading('Order of work');
  flow.table(
    [
      { title: '', align: 'left' },
      { title: '', align: 'right' },
      { title: 'step', align: 'left' },
      { title: 'how', align: 'left', grows: 1 },
    ],
    orderOfWork(layout, fixings).map(({ title, lines }, i) => ({
      cells: [tick, String(i + 1), { text: title, bold: true }, lines.join(' ')],
    })),
    { about: 'Order of work' },
  );
}

/** Room to write a measured length in. */
const writing = { width: 30, height: 9 };

export function addChecks(flow: Flow, layout: Layout, job: Job): void {
  flow.heading('Checks', { with: 40 });
  flow.text('Measure when all is fixed, and write down what you found.');
  flow.table(
    [
      { title: '', align: 'left' },
      { title: 'check', align: 'left', grows: 1 },
      { title: 'should be', align: 'right' },
      { title: 'measured', align: 'left', atLeast: writing.width },
    ],
    finalChecks(layout).map(({ what, wanted }) => ({
      cells: [tick, what, wanted === undefined ? '' : { text: said(wanted, job), bold: true }, ''],
      atLeast: writing.height,
    })),
    { about: 'Checks' },
  );
  flow.keep(24);
  flow.table(
    [
      { title: 'done by', align: 'left', grows: 1 },
      { title: 'on', align: 'left', atLeast: 40 },
      { title: 'what is left to do', align: 'left', grows: 2 },
    ],
    [{ cells: ['', '', ''], atLeast: 14 }],
  );
}
