/** Units with a survey and what it does to them, as a list for other programs. */

import { type Ticks, ticks } from '../../model/ticks.ts';
import { decisionSaid, verdictWords } from '../exceptions-said.ts';
import type { Exported } from './exported.ts';
import { type Column, type Table, tableOf } from './table.ts';

export const exceptionColumns: readonly Column[] = [
  { id: 'unit', title: 'unit', type: 'text' },
  { id: 'floor', title: 'floor', type: 'text' },
  { id: 'template', title: 'template', type: 'text' },
  { id: 'verdict', title: 'what is to be done', type: 'text' },
  { id: 'wall', title: 'wall that is most off', type: 'text' },
  { id: 'off', title: 'off by', type: 'length' },
  { id: 'way', title: 'which is', type: 'text' },
  { id: 'cuts', title: 'parts cut otherwise', type: 'count' },
  { id: 'most', title: 'by at most', type: 'length' },
  { id: 'others', title: 'other differences', type: 'count' },
  { id: 'findings', title: 'errors and warnings', type: 'count' },
  { id: 'decision', title: 'to decide', type: 'text' },
];

/** In the order in which they come: those that need the most first. */
export function exceptionsTable({ exceptions }: Pick<Exported, 'exceptions'>): Table {
  return tableOf(
    'exceptions',
    'Exceptions',
    exceptionColumns,
    exceptions.map((one) => ({
      unit: one.unit.name,
      floor: one.unit.floor,
      template: one.template,
      verdict: verdictWords[one.verdict],
      wall: one.wall?.wall,
      off: one.wall && ticks(Math.abs(one.wall.off)),
      way: one.wall && wayOf(one.wall.off),
      cuts: one.cuts.length,
      most: one.cuts.length === 0 ? undefined : one.most,
      others: one.others.length,
      findings: one.findings.length,
      decision: decisionSaid(one) || undefined,
    })),
  );
}

function wayOf(off: Ticks): string {
  return off === 0 ? 'as drawn' : off < 0 ? 'shorter' : 'longer';
}
