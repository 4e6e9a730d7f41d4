/** The project that people begin with: it is checked like any other, so it must hold what it teaches. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { advisedPlan } from '../../server/checks/analysis.ts';
import { optimal } from '../../server/cutting/optimal.ts';
import { newProject } from '../../server/language/new-project.ts';
import type { Project } from '../../server/model/project.ts';
import { workspaceOf } from '../model/support.ts';

const measures = ['inches', 'millimetres'] as const;

function loaded(files: readonly { readonly path: string; readonly text: string }[]): Project {
  const workspace = workspaceOf(Object.fromEntries(files.map(({ path, text }) => [`/p/${path}`, text])));
  expect(workspace.projects).toHaveLength(1);
  return workspace.projects[0]?.project as Project;
}

describe.each(measures)('a new project in %s', (measure) => {
  const made = newProject({ name: 'Quarry Lane', measure });
  const project = loaded(made.files);

  it('has nothing to be told of it, its cutting plan included', () => {
    const { findings, plan } = advisedPlan(project, optimal);
    const all = [...project.findings(), ...findings].map(({ rule, message }) => `${rule.id}: ${message}`);
    expect(all).toEqual([]);
    expect(plan?.uncut).toEqual([]);
  });

  it('shows lengths as it was asked to, and builds three units of one template', () => {
    expect(project.settings.show.system).toBe(measure);
    expect(project.settings.title).toBe('Quarry Lane');
    expect([...project.units()].map(({ name, floor }) => `${name} ${floor}`)).toEqual([
      'A-101-bedroom 1',
      'A-102-bedroom 1',
      'A-201-bedroom 2',
    ]);
  });

  it('names a main file that is among its files', () => {
    expect(made.files.map(({ path }) => path)).toContain(made.main);
  });

  it('holds a survey that checks without errors once the marks are taken off', () => {
    const files = made.files.map(({ path, text }) => ({
      path,
      text: text.replace(/^\/\/ (?=survey|[ }])/gm, ''),
    }));
    const measured = loaded(files);
    const [first] = [...measured.units()];
    expect(first?.survey?.name).toBe('A-101-bedroom');
    expect(measured.findings().filter(({ severity }) => severity === 'error')).toEqual([]);
  });
});

it('whatever the project is called, its title is one text and nothing else', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 30 }), fc.constantFrom(...measures), (name, measure) => {
      const project = loaded(newProject({ name, measure }).files);
      expect(project.findings().map(({ rule }) => rule.id)).toEqual([]);
      expect(project.settings.title).not.toBe('');
    }),
    { numRuns: 30 },
  );
});
