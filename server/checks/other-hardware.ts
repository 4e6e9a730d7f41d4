/** Hardware that the project describes already, in place of one that does not suit a part. Which of it is bought is for somebody to choose. */
import type { Place, Statement } from '../../grammar/tree.ts';
import { type Path, placeOf } from '../../grammar/tree.ts';
import { addedFix, written } from '../model/edits.ts';
import type { Finding, Fix } from '../model/finding.ts';
import type { Hardware } from '../model/materials.ts';
import { withLibraries } from '../model/names.ts';
import type { Project } from '../model/project.ts';
import { dotted } from '../model/reading.ts';
import { fixesWith, mostHardware } from './carried-fixes.ts';
import { hardwareAt, hardwareThat } from './described-hardware.ts';

/** A shelf whose bracket reaches too far or not far enough: brackets that reach as far as it does, or a little less far. */
export function otherBrackets(project: Project, found: Finding): Fix[] {
  const { comparison } = found;
  const lengths = [comparison?.measured, comparison?.limit].map((one) =>
    one && 'ticks' in one ? one.ticks : undefined,
  );
  const front = comparison?.relation === 'at most' && found.rule.id === 'bracket-past-shelf' ? lengths[1] : lengths[0];
  if (front === undefined) return [];
  const short = hardwareThat(
    project.names,
    ({ role, reach }) => role === 'bracket' && reach !== undefined && reach <= front,
  );
  const longest = short.reduce((most, { reach }) => Math.max(most, reach ?? 0), 0);
  return inPlaceOf(
    project,
    found,
    short.filter(({ reach }) => reach === longest),
  );
}

/** A rod on a hook without bracket: cups at its ends, or brackets under the shelf over it. */
export function cupsOrBrackets(project: Project, found: Finding): Fix[] {
  const shelf = found.related.find(({ place }) => place.statement.word.text === 'shelf')?.place.statement;
  const cups = hardwareThat(project.names, ({ role }) => role === 'cup');
  return [
    ...inPlaceOf(project, found, cups),
    ...(shelf ? fixesWith(project, shelf, ['bracket']) : []).map((fix) => ({
      ...fix,
      title: `${fix.title} in the shelf over it`,
      byHand: true,
    })),
  ];
}

/** A shelf on pins that meet no panel: supports. */
export function supportsForPins(project: Project, found: Finding): Fix[] {
  return inPlaceOf(
    project,
    found,
    hardwareThat(project.names, ({ role }) => role === 'support'),
  );
}

/** Hardware that carries more than it is rated for: others that do the same, rated for more. */
export function strongerHardware(project: Project, found: Finding): Fix[] {
  const own = hardwareAt(project.names, hardwareIn(found)?.statement);
  if (!own) return [];
  const { role, rated = 0 } = own;
  const stronger = hardwareThat(project.names, (one) => one.role === role && (one.rated ?? 0) > rated);
  return inPlaceOf(project, found, stronger);
}

/** The hardware that a finding is related to. */
function hardwareIn({ related }: Finding): Place | undefined {
  return related.find(({ place }) => place.statement.word.text === 'hardware')?.place;
}

/** Names each of some hardware where the part, or what stands around it, names the one that the finding is about. */
function inPlaceOf(project: Project, found: Finding, others: readonly Hardware[]): Fix[] {
  const old = hardwareAt(project.names, hardwareIn(found)?.statement);
  const part = found.about === undefined ? undefined : partOf(found);
  if (!old || !part) return [];
  const names = [...new Set(others.map(({ name }) => name))].filter((name) => name !== old.name).sort();
  if (names.length > mostHardware) return [];
  const isOld = (name: string): boolean => project.names.find('hardware', name)?.statement === old.place.statement;
  const own = carriedIn(part);
  if (own) {
    const path = pathsIn(own).find((one) => isOld(dotted(one)));
    return path
      ? names.map((name) => ({
          ...written(placeOf(own, path), name, { byHand: true }),
          title: `Write ${name} instead of ${dotted(path)}`,
        }))
      : [];
  }
  const around = carriedAround(part) ?? ofMaterial(project, old);
  if (!around?.some(isOld)) return [];
  return names.flatMap((name) =>
    addedFix(part, `carried by ${around.map((one) => (isOld(one) ? name : one)).join(', ')}`, { byHand: true }),
  );
}

/** The statement of the part: where the finding sits, or what it is said to be about, where that is in a template. */
function partOf({ place, related }: Finding): Statement | undefined {
  const parts = [place, ...related.map((one) => one.place)].map(({ statement }) => statement);
  return parts.find(({ word }) => ['shelf', 'shelves', 'rod'].includes(word.text));
}

function carriedIn({ block }: Statement): Statement | undefined {
  return block?.children.findLast(({ word }) => word.text === 'carried');
}

function pathsIn({ items }: Statement): Path[] {
  return items.filter((item): item is Path => item.kind === 'path').filter((path) => dotted(path) !== 'by');
}

function carriedAround({ parent }: Statement): string[] | undefined {
  for (let around = parent; around.kind === 'statement'; around = around.parent) {
    const said = carriedIn(around);
    if (said) return pathsIn(said).map(dotted);
  }
  return undefined;
}

/** What a board or rod is carried by, where all that name the hardware name nothing beside it. */
function ofMaterial({ names }: Project, { name, place }: Hardware): string[] | undefined {
  const lists = [...withLibraries(names)].flatMap((among) =>
    (['board', 'rod'] as const).flatMap((kind) =>
      [...among.all(kind)].flatMap(({ statement }) => {
        const said = carriedIn(statement);
        return said ? [pathsIn(said).map((path) => among.find('hardware', dotted(path))?.statement)] : [];
      }),
    ),
  );
  const own = lists.filter((list) => list.includes(place.statement));
  return own.length > 0 && own.every(({ length }) => length === 1) ? [name] : undefined;
}
