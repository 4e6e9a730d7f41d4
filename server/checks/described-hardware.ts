/** The hardware that a project can name in a fix: its own, or else what its libraries describe. */
import type { Statement } from '../../grammar/tree.ts';
import { hardwareOf } from '../model/declared.ts';
import type { Hardware } from '../model/materials.ts';
import { calledInProject, type Declared, type Names, withLibraries } from '../model/names.ts';

/** Of each that suits, what it is, with the name that the project has for it. Where some of its own suits, that alone. */
export function hardwareThat(names: Names, suits: (hardware: Hardware) => boolean): Hardware[] {
  const own = among([...names.written('hardware')], names).filter(suits);
  if (own.length > 0) return own;
  const others = [...withLibraries(names)].filter((one) => one !== names);
  return others.flatMap((library) => among(library.written('hardware'), library)).filter(suits);
}

/** As the first declaration of each name says. */
function among(all: readonly Declared[], names: Names): Hardware[] {
  const first = new Map(all.map((declared) => [calledInProject(declared), names.find('hardware', declared.name)]));
  return [...first.values()].flatMap((declared) => (declared ? [hardwareOf(declared, names).value] : []));
}

/** What a statement declares, by its project's or its library's names. */
export function hardwareAt(names: Names, statement: Statement | undefined): Hardware | undefined {
  for (const one of withLibraries(names))
    for (const declared of one.all('hardware'))
      if (declared.statement === statement) return hardwareOf(declared, one).value;
  return undefined;
}
