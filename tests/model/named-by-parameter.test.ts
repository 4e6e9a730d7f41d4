/** What a unit gives for a parameter that names something stands wherever that is named. */
import { describe, expect, it } from 'vitest';
import { fixingsFor } from '../../server/checks/structure/needed.ts';
import type { Project } from '../../server/model/project.ts';
import { projectOf } from './support.ts';

const closet = (zone: string, parameter: string): string => `
hardware rear { is support; spacing at most 24in }
hardware arm { is bracket; reach 12in }
hardware clip { is support; spacing at most 30in }
template mine {
  parameter ${parameter}
  wall back { length 60in; height 96in; studs every 16in from 8in }
  board white-12
  pole chrome
  ${zone}
}
`;

const carriers = (project: Project, name: string): string[] => {
  const unit = [...project.units()].find((one) => one.name === name);
  const layout = unit?.resolved?.layout;
  const all = layout && unit ? fixingsFor({ layout, policy: unit.policy }).all : [];
  return [...new Set(all.map(({ part, hardware }) => `${part} on ${hardware.name}`))];
};

const errors = (project: Project): string[] =>
  project.findings().flatMap(({ severity, message }) => (severity === 'error' ? [message] : []));

describe('hardware that a parameter names', () => {
  const own = 'zone a on back { width fill; shelf s { at 60in; carried by held, arm } }';
  const around = 'carried by held, arm\nzone a on back { width fill; shelf s { at 60in } }';

  it.each([
    ['a part', own],
    ['all in a template', around],
  ])('carries %s', (_, zone) => {
    const project = projectOf(`${closet(zone, 'held: hardware = rear')}unit u mine\nunit v mine { held clip }\n`);
    expect(errors(project)).toEqual([]);
    expect(carriers(project, 'u')).toEqual(['a.s on rear', 'a.s on arm']);
    expect(carriers(project, 'v')).toEqual(['a.s on clip', 'a.s on arm']);
  });

  it('follows what that declares', () => {
    const text = `${closet(own, 'held: hardware = rear')}unit v mine { held clipp }\nhardware clipp { is support }\n`;
    expect(carriers(projectOf(text), 'v')).toEqual(['a.s on clipp', 'a.s on arm']);
  });

  it('carries nothing where no value is given, which is told once', () => {
    const project = projectOf(`${closet(own, 'held: hardware')}unit u mine\n`);
    expect(errors(project)).toEqual(['Unit "u" does not give "held", which template "mine" needs.']);
  });

  it.each([
    ['carried by held', 'shelf s { at 60in; carried by held }', 'hardware'],
    ['for held', 'rod r { at 60in; for held }', 'garment'],
  ])('is told where the parameter is something else: %s', (_, fitting, kind) => {
    const project = projectOf(
      `${closet(`zone a on back { width fill; ${fitting} }`, 'held: board = white-16')}unit u mine\n`,
    );
    expect(errors(project)).toEqual([`"held" is a board, and here should be a ${kind}.`]);
  });
});
