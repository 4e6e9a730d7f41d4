/** The list of exceptions in words: the same in the terminal, in sheets and in an editor. */
import { counted, grouped } from '../model/money.ts';
import { type Show, showLength } from '../model/show.ts';
import { ticks } from '../model/ticks.ts';
import type { Change } from './compare/changes.ts';
import { differenceOf, type Exception, type ExceptionGroup, tallyOf, type Verdict } from './exceptions.ts';
import { type Column, tableLines } from './text-table.ts';

export const verdictWords: Readonly<Record<Verdict, string>> = {
  decision: 'decide',
  'cut-lengths': 'other cut lengths',
  fits: 'fits',
};

/** `back 3/8in shorter`, `back as drawn`; empty where no length was measured. */
export function measuredSaid({ wall }: Exception, show: Show): string {
  if (!wall) return '';
  if (wall.off === 0) return `${wall.wall} as drawn`;
  return `${wall.wall} ${longerOrShorter(wall.off, show)}`;
}

function longerOrShorter(difference: number, show: Show): string {
  return `${showLength(ticks(Math.abs(difference)), show)} ${difference < 0 ? 'shorter' : 'longer'}`;
}

/** `3 parts, up to 1/4in shorter`, and how many things stand elsewhere. */
export function cutsSaid({ cuts, others }: Exception, show: Show): string {
  const differences = cuts.map(differenceOf);
  const [first = 0] = differences.toSorted((a, b) => Math.abs(b) - Math.abs(a));
  const isOne = differences.every((one) => one === first);
  return [
    ...(cuts.length === 0
      ? []
      : [`${counted(cuts.length, 'part')}, ${isOne ? '' : 'up to '}${longerOrShorter(first, show)}`]),
    ...(others.length === 0 ? [] : [otherSaid(others)]),
  ].join('; ');
}

function otherSaid(others: readonly Change[]): string {
  const parts = others.filter(({ kind, before, after }) => kind === 'part' && !(before && after)).length;
  const rest = new Set(others.filter(({ kind }) => kind !== 'part').map(({ of }) => of)).size;
  return [
    ...(parts === 0 ? [] : [`${counted(parts, 'part')} more or less`]),
    ...(rest === 0 ? [] : [`${counted(rest, 'thing')} at another place`]),
    ...(parts === 0 && rest === 0 ? ['parts made otherwise'] : []),
  ].join(', ');
}

/** What is to be decided: what was found first, and how much else. */
export function decisionSaid({ verdict, findings, unit }: Exception): string {
  const [first] = findings;
  if (first)
    return `${first.severity}: ${first.message}${findings.length > 1 ? ` And ${findings.length - 1} more.` : ''}`;
  if (verdict !== 'decision') return '';
  return unit.resolved ? 'There are parts more or less than are drawn.' : 'It cannot be worked out.';
}

/** `24 units with a survey: 3 to decide, 15 with other cut lengths alone, 6 as drawn.` */
export function summarySaid(exceptions: readonly Exception[]): string {
  const tally = tallyOf(exceptions);
  const parts = [
    ...(tally.decision > 0 ? [`${grouped(tally.decision)} to decide`] : []),
    ...(tally['cut-lengths'] > 0 ? [`${grouped(tally['cut-lengths'])} with other cut lengths alone`] : []),
    ...(tally.fits > 0 ? [`${grouped(tally.fits)} that ${tally.fits === 1 ? 'fits' : 'fit'} as drawn`] : []),
  ];
  const all = `${counted(exceptions.length, 'unit')} with a survey`;
  return parts.length === 0 ? `${all}.` : `${all}: ${parts.join(', ')}.`;
}

const columns: readonly Column[] = [
  { title: 'unit', align: 'left' },
  { title: 'floor', align: 'right' },
  { title: 'template', align: 'left' },
  { title: '', align: 'left' },
  { title: 'measured', align: 'left' },
  { title: 'cut otherwise', align: 'left' },
  { title: 'to decide', align: 'left' },
];

/** Tables for a terminal that is so wide, a group each. */
export function exceptionsText(groups: readonly ExceptionGroup[], show: Show, width: number, by?: string): string {
  const tables = groups.map(({ name, exceptions }) => {
    const rows = exceptions.map((one) => [
      one.unit.name,
      by === 'floor' ? '' : (one.unit.floor ?? ''),
      by === 'template' ? '' : (one.template ?? ''),
      verdictWords[one.verdict],
      measuredSaid(one, show),
      cutsSaid(one, show),
      decisionSaid(one),
    ]);
    const title =
      by === undefined
        ? ''
        : `${name === undefined ? `No ${by}` : `${by === 'floor' ? 'Floor' : 'Template'} ${name}`}: ${summarySaid(exceptions)}\n`;
    return `${title}${tableLines(columns, rows, width).join('\n')}\n`;
  });
  return tables.join('\n');
}
