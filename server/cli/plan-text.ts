/** A cutting plan as a person at the saw reads it. */
import type { Planned } from '../checks/analysis.ts';
import type { MaterialTotals, Pattern } from '../cutting/types.ts';
import type { ProjectSettings } from '../model/settings.ts';
import { showLength } from '../model/show.ts';
import type { Ticks } from '../model/ticks.ts';
import { type Column, tableLines } from '../sheets/text-table.ts';
import { counted, money, printable } from './words.ts';

const columns: readonly Column[] = [
  { title: 'boards', align: 'right' },
  { title: 'from', align: 'left' },
  { title: 'cut, longest first', align: 'left' },
  { title: 'left', align: 'right' },
  { title: '', align: 'left' },
];

/** Sections by material, with a line end at the end. */
export function planText({ plan, demand }: Planned, settings: ProjectSettings): string {
  if (!plan || (plan.patterns.length === 0 && plan.uncut.length === 0)) return 'Nothing is to be cut.\n';
  const { show } = settings;
  const shown = (length: Ticks): string => showLength(length, show);
  const offcuts = new Set(demand.request.stock.filter((s) => s.offcut).map((s) => s.id));
  const lengths = new Map(demand.request.stock.map((s) => [s.id, s.length]));
  const sections = plan.totals.map((total) => {
    const patterns = plan.patterns.filter((p) => p.material === total.material);
    return [
      `${printable(total.material)}: ${takenText(total, offcuts, shown)}${total.price === undefined ? '' : `, ${money(total.price, settings.currency)}`}`,
      '',
      ...tableLines(
        columns,
        patterns.map((p) => row(p, lengths.get(p.stock), offcuts.has(p.stock), shown)),
      ),
      '',
      `  ${counted(total.pieceCount, 'part')}, ${shown(total.usedLength)} in all; the saw takes ${shown(total.kerfLoss)}; ${
        total.keptCount > 0
          ? `${counted(total.keptCount, 'offcut')} worth keeping, ${shown(total.keptLength)}`
          : 'no offcut worth keeping'
      }; ${shown(total.waste)} waste.`,
      `  ${boundText(total, settings, shown)}`,
    ].join('\n');
  });
  const uncut = plan.uncut.map((u) => `  ${u.quantity} x ${shown(u.length)} of ${printable(u.material)}: ${u.reason}`);
  if (uncut.length > 0) sections.push(['Not cut:', ...uncut].join('\n'));
  const text = sections.join('\n\n');
  const rounded = text.includes('~') ? '\n\n~ stands before a length that is finer than what is shown.' : '';
  return `${text}${rounded}\n`;
}

function takenText(total: MaterialTotals, offcuts: ReadonlySet<string>, shown: (l: Ticks) => string): string {
  const taken = total.boards.map(
    (b) => `${b.count} x ${shown(b.length)}${offcuts.has(b.stock) ? ' from the rack' : ''}`,
  );
  return `${counted(total.boardCount, 'board')} (${taken.join(', ')})`;
}

function row(p: Pattern, length: Ticks | undefined, rack: boolean, shown: (l: Ticks) => string): string[] {
  return [
    `${p.times} x`,
    `${length === undefined ? p.stock : shown(length)}${rack ? ' rack' : ''}`,
    p.cuts.map((c) => (c.quantity === 1 ? shown(c.length) : `${c.quantity} x ${shown(c.length)}`)).join(', '),
    shown(p.offcut),
    p.keep ? 'keep' : '',
  ];
}

/** How far from the best a plan can be: the bound is proven by adding up lengths. */
function boundText(
  { bound, boardCount, price, boughtLength }: MaterialTotals,
  settings: ProjectSettings,
  shown: (l: Ticks) => string,
): string {
  const spent = bound.measure === 'price' ? price : boughtLength;
  const amount = (n: number): string => (bound.measure === 'price' ? money(n, settings.currency) : shown(n as Ticks));
  const boards =
    boardCount === bound.boards
      ? `${counted(boardCount, 'board')}, and no plan needs fewer`
      : `${counted(boardCount, 'board')}; by their lengths alone the parts need at least ${bound.boards}`;
  if (spent === undefined || bound.cost <= 0) return `First plan found: ${boards}.`;
  const over = ((spent - bound.cost) / bound.cost) * 100;
  return spent <= bound.cost
    ? `First plan found: ${boards}; nothing cheaper is possible.`
    : `First plan found: ${boards}; no plan costs less than ${amount(bound.cost)}, so this one is at most ${over.toFixed(1)} % above the best.`;
}
