/** The stock of a project as a tree: materials, the lengths they come in, and what the plan takes of each. */
import { headPlace, type Place } from '../../grammar/tree.ts';
import type { MaterialTotals } from '../cutting/types.ts';
import type { StockItem } from '../model/materials.ts';
import { counted, money } from '../model/money.ts';
import { calledInProject, withLibraries } from '../model/names.ts';
import type { Project } from '../model/project.ts';
import { showLength } from '../model/show.ts';
import { stockByMaterial } from '../model/stock-held.ts';
import type { Made } from './made-plan.ts';
import type { Branch } from './view-node.ts';

type Summary = Pick<Branch, 'description' | 'tooltip'>;

const beingMade = 'a plan is being made';
const notMade = 'no plan could be made';

/** The figures of the whole plan in a few words. */
export function stockSummary(project: Project, { state, cutting, why }: Made): Summary {
  if (state === 'none') return both('nothing is to be cut');
  if (state === 'failed') return { description: notMade, tooltip: [notMade, ...(why ? [why] : [])].join('\n') };
  if (!cutting) return both(beingMade);
  const said = figures(cutting.plan.totals, 'length', project.settings.currency);
  return both(state === 'planning' ? `${said} (${beingMade})` : said);
}

/** Every material that has stock or that something is cut from. */
export function stockBranches(project: Project, made: Made): Branch[] {
  const items = stockItems(project);
  const places = placesOf(project);
  const pieces = made.cutting?.demand.request.pieces ?? [];
  const names = new Set([...places.keys(), ...items.keys(), ...pieces.map(({ material }) => material)]);
  return [...names].sort().map((name): Branch => {
    const own = items.get(name) ?? [];
    const totals = made.cutting?.plan.totals.find(({ material }) => material === name);
    const asked = pieces.filter(({ material }) => material === name).reduce((sum, { quantity }) => sum + quantity, 0);
    const said = totals
      ? figures([totals], places.get(name)?.kind ?? 'length', project.settings.currency)
      : asked === 0
        ? 'nothing is cut from it'
        : own.length === 0
          ? 'no stock is declared'
          : made.state === 'planning'
            ? beingMade
            : 'not planned';
    return {
      key: `material ${name}`,
      kind: 'material',
      label: name,
      description: said,
      tooltip: [name, ...(asked > 0 ? [`${counted(asked, 'piece')} to cut`] : []), said].join('\n'),
      place: places.get(name)?.place ?? own[0]?.declaration,
      children: own.length === 0 ? undefined : () => own.map((item, i) => lengthBranch(project, made, item, i, totals)),
    };
  });
}

function lengthBranch(
  { settings: { show, currency } }: Project,
  { cutting }: Made,
  item: StockItem,
  at: number,
  totals: MaterialTotals | undefined,
): Branch {
  const { length, price, count, offcut, place } = item;
  const taken = totals?.boards.find(({ stock }) => cutting?.demand.items.get(stock) === item)?.count ?? 0;
  const there = count === undefined ? 'unlimited' : `of ${counted(count, offcut ? 'offcut' : 'length')}`;
  const takes = cutting ? `takes ${taken} ${count === undefined ? `(${there})` : there}` : there.replace(/^of /, '');
  const said = [
    takes,
    ...(price === undefined || (offcut && price === 0) ? [] : [`${money(Math.round(price), currency)} each`]),
  ].join(' · ');
  const label = offcut ? `${showLength(length, show)} offcut` : showLength(length, show);
  return {
    key: `length ${at}`,
    kind: 'length',
    label,
    description: said,
    tooltip: `${label} of ${item.material}\n${said}`,
    place,
  };
}

/** `86 boards, 1,545.90 EUR`. */
function figures(totals: readonly MaterialTotals[], one: string, currency: string | undefined): string {
  const lengths = totals.reduce((sum, { boardCount }) => sum + boardCount, 0);
  const price = totals.every((total) => total.price !== undefined)
    ? [
        money(
          totals.reduce((sum, total) => sum + (total.price ?? 0), 0),
          currency,
        ),
      ]
    : [];
  return [counted(lengths, one), ...price].join(', ');
}

/** In what lengths each material can be had, by what it is called in the project. */
export function stockItems(project: Project): Map<string, readonly StockItem[]> {
  return new Map([...stockByMaterial(project.computed('stock'))].map(([material, { items }]) => [material, items]));
}

/** Where boards and rods are declared, and which of the two they are. */
function placesOf(project: Project): Map<string, { readonly kind: 'board' | 'rod'; readonly place: Place }> {
  const places = new Map<string, { readonly kind: 'board' | 'rod'; readonly place: Place }>();
  for (const kind of ['board', 'rod'] as const) {
    for (const names of withLibraries(project.names))
      for (const declared of names.written(kind)) {
        const called = calledInProject(declared);
        if (!places.has(called)) places.set(called, { kind, place: headPlace(declared.statement) });
      }
  }
  return places;
}

function both(said: string): Summary {
  return { description: said, tooltip: said };
}
