/** What a board or rod comes in, and what the project cuts from it. */
import type { Statement } from '../../grammar/tree.ts';
import type { Layout } from '../model/layout.ts';
import type { StockItem } from '../model/materials.ts';
import { counted, money } from '../model/money.ts';
import { calledInProject, withLibraries } from '../model/names.ts';
import type { Project } from '../model/project.ts';
import type { ProjectSettings } from '../model/settings.ts';
import { showLength } from '../model/show.ts';
import { greatest, NONE } from '../model/ticks.ts';
import type { Snapshot } from './snapshot.ts';
import { stockItems } from './stock-view.ts';

/** Of so many lengths each is said. */
const mostLengths = 8;

/** A paragraph about a `board` or `rod` that is declared; none for other statements. */
export function materialFacts({ project }: Snapshot, statement: Statement): string[] {
  const kind = statement.parent.kind === 'segment' ? statement.word.text : undefined;
  if (kind !== 'board' && kind !== 'rod') return [];
  for (const names of withLibraries(project.names))
    for (const declared of names.all(kind))
      if (declared.statement === statement) {
        const name = calledInProject(declared);
        return [`${stockText(project, name)} ${cutText(project, name)}`];
      }
  return [];
}

function stockText(project: Project, name: string): string {
  const items = stockItems(project).get(name) ?? [];
  if (items.length === 0) return 'No stock of it is declared.';
  const said = items.slice(0, mostLengths).map((item) => itemText(item, project.settings));
  const more = items.length > mostLengths ? [`${items.length - mostLengths} more`] : [];
  return `Stock: ${[...said, ...more].join(', ')}.`;
}

function itemText({ length, price, count, offcut }: StockItem, { show, currency }: ProjectSettings): string {
  const priced = price === undefined || (offcut && price === 0) ? '' : ` at ${money(Math.round(price), currency)}`;
  const many = offcut ? `${counted(count ?? 1, 'offcut')} of ` : count === undefined ? '' : `${count} × `;
  return `${many}${showLength(length, show)}${priced}`;
}

/** Units that are alike share one layout, which is looked at once. */
function cutText(project: Project, name: string): string {
  const unitsOf = new Map<Layout, number>();
  for (const { resolved, count } of project.units())
    if (resolved) unitsOf.set(resolved.layout, (unitsOf.get(resolved.layout) ?? 0) + count);
  let [parts, units] = [0, 0];
  let longest = NONE;
  for (const [layout, count] of unitsOf) {
    const own = layout.parts.filter(({ material }) => material === name);
    if (own.length === 0) continue;
    units += count;
    parts += own.length * count;
    for (const { length } of own) longest = greatest(longest, length);
  }
  for (const extra of project.computed('extra')) {
    const value = extra.kind === 'extra' ? extra.value : undefined;
    if (value?.kind !== 'extra' || value.part.material !== name) continue;
    parts += value.count;
    longest = greatest(longest, value.part.length);
  }
  if (parts === 0) return 'Nothing is cut from it.';
  const where = units === 0 ? '' : ` in ${counted(units, 'unit')}`;
  const text = showLength(longest, project.settings.show);
  return parts === 1
    ? `1 part of it${where}: ${text}.`
    : `${counted(parts, 'part')} of it${where}, the longest ${text}.`;
}
