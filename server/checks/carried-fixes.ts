/** What carries or ties a part, added to what is named there: hardware that the project describes already. */
import type { Statement } from '../../grammar/tree.ts';
import { addedFix } from '../model/edits.ts';
import type { Finding, Fix } from '../model/finding.ts';
import type { HardwareRole } from '../model/materials.ts';
import type { Project } from '../model/project.ts';
import { dotted } from '../model/reading.ts';
import { hardwareThat } from './described-hardware.ts';

/** Of so much hardware none is the obvious one, and a list of it is no help. */
export const mostHardware = 4;

/** What can hold a part, by the word of its statement. */
const holding: Readonly<Record<string, readonly HardwareRole[]>> = {
  shelf: ['support', 'bracket', 'pin'],
  shelves: ['support', 'bracket', 'pin'],
  rod: ['hook', 'cup'],
  panels: ['tie'],
};

/** What hardware that carries a part can be. */
export function rolesFor({ word }: Statement): readonly HardwareRole[] {
  return holding[word.text] ?? [];
}

/** The hardware of a fixing without stud names an anchor, where the project has some and none is named. */
export function anchorFixes(project: Project, { fixes, related }: Finding): Fix[] {
  const hardware = related[0]?.place.statement;
  return fixes.length > 0 || hardware?.word.text !== 'hardware'
    ? []
    : namesOf(project, ['anchor']).flatMap((name) => addedFix(hardware, `anchor ${name}`));
}

/** Names hardware that would hold it. */
export function carryingFixes(project: Project, statement: Statement): Fix[] {
  return fixesWith(project, statement, holding[statement.word.text] ?? []);
}

/** Names a tie among what carries the panels. */
export function tyingFixes(project: Project, statement: Statement): Fix[] {
  return fixesWith(project, statement, ['tie']);
}

/** The hardware that a project can name and that has one of some roles; none of it where there is too much. */
function namesOf(project: Project, roles: readonly HardwareRole[]): string[] {
  const suits = hardwareThat(project.names, ({ role }) => role !== undefined && roles.includes(role));
  const names = suits.map(({ name }) => name).sort();
  return names.length > mostHardware ? [] : names;
}

/** Adds hardware of some roles to what a part is carried by. */
export function fixesWith(project: Project, statement: Statement, roles: readonly HardwareRole[]): Fix[] {
  const names = namesOf(project, roles);
  const own = statement.block?.children.findLast(({ word }) => word.text === 'carried');
  return names.flatMap((name): Fix[] => {
    if (!own) return addedFix(statement, `carried by ${[...carriedFor(statement), name].join(', ')}`);
    const { end } = own.head;
    const place = { statement: own, start: end, end };
    return [{ title: `Write ${own.text.slice(own.word.start, end)}, ${name}`, edits: [{ place, text: `, ${name}` }] }];
  });
}

/** The names in the nearest `carried by` of the blocks around a statement; none where nothing there says. */
function carriedFor({ parent }: Statement): string[] {
  for (let around = parent; around.kind === 'statement'; around = around.parent) {
    const said = around.block?.children.findLast(({ word }) => word.text === 'carried');
    const names = said?.items.flatMap((item) => (item.kind === 'path' ? [dotted(item)] : []));
    if (names) return names.filter((name) => name !== 'by');
  }
  return [];
}
