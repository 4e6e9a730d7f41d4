/** What somebody has agreed to of a template holds for its units, and for a unit on another template no longer. */
import { agreedBy, agreementOf } from '../../model/agreements.ts';
import type { Declared } from '../../model/names.ts';
import type { Project, Unit } from '../../model/project.ts';

/** To be said behind a title: empty where a unit that is put on another template keeps what is agreed to. */
export function noLongerAgreed(project: Project, units: readonly Unit[], to: Declared | undefined): string {
  const agreements = project.names.written('accept').flatMap(agreementOf);
  if (agreements.length === 0) return '';
  const lost = units.reduce((sum, { name, info, checked }) => {
    const open = checked.filter((f) => {
      const by = (template: Declared | undefined) => agreedBy(f, name, template, agreements);
      return by(info?.declared) !== undefined && by(to) === undefined;
    });
    return sum + open.length;
  }, 0);
  if (lost === 0) return '';
  return `; ${lost === 1 ? 'a finding that is' : `${lost} findings that are`} agreed to of its template will be told again`;
}
