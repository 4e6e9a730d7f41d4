/** What is shown of a project does not depend on which of its declarations was typed last. */
import { describe, expect, it } from 'vitest';
import { offsetOf } from '../../grammar/tree.ts';
import { limits } from '../../server/model/limits.ts';
import type { Workspace } from '../../server/model/workspace.ts';
import { differenceOf, stateOf } from '../fuzz/state.ts';
import { prelude, workspaceOf } from './support.ts';

const template = (head: string): string =>
  `template ${head} { wall back { length 60in; height 96in } zone a on back { width 30in } }\n`;

/** A project that is said to be one has a place of its own for what is found in all of it. */
const materials = prelude.replace(/^project .*\n/, '');
const crowded = Math.ceil(limits.mostUnits.most / 2) + 1;

const texts: readonly (readonly [what: string, text: string])[] = [
  [
    'what extends a template',
    `${template('t')}template b extends t { zone b on back { width 5in } }\ntemplate a extends t { zone b on back { width 6in } }\n`,
  ],
  ['the units that use a template', `${template('t')}unit b t {}\nunit a t {}\nunit c t {}\n`],
  [
    'the unit as which a template is drawn',
    `template t { parameter w: length from 40in to 90in; wall back { length w; height 96in } zone a on back { width w } }\nunit b t { w 50in }\nunit a t { w 60in }\n`,
  ],
  [
    'which of two agreements was needed',
    `${template('t')}accept width-left-over at t because "all of it"\naccept width-left-over at t.back because "this wall"\n`,
  ],
  [
    'where a project is said to be too large',
    `${template('t')}unit b t { count ${crowded} }\nunit a t { count ${crowded} }\n`,
  ],
];

describe.each(texts)('%s', (_, text) => {
  const path = '/p/main.closet';
  const count = text.split(/^(?=\w)/m).length;
  it.each([...Array(count).keys()])('is the same once declaration %i was typed anew', (which) => {
    const read = (): Workspace => workspaceOf({ '/p/materials.closet': materials, [path]: text });
    const workspace = read();
    const project = workspace.projectOf(path)?.project;
    const source = project?.sources.get(path);
    const statement = [...(source?.statements() ?? [])][which];
    if (!project || !source || !statement) throw new Error(`there is no declaration ${which}`);
    const at = offsetOf(statement) + statement.word.end;
    project.editFile(path, [{ start: at, end: at, text: 'x' }]);
    project.refreshNow();
    project.editFile(path, [{ start: at, end: at + 1, text: '' }]);
    project.refreshNow();
    expect(source.text).toBe(text);
    expect(differenceOf(stateOf(workspace), stateOf(read()))).toBeUndefined();
  });
});
