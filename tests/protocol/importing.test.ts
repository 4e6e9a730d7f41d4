/** A table brought to the built server as an editor does it: asked for what it needs, told of every change. */
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import type { ImportAnswer, ImportAsked } from '../../server/protocol/features/import-answer.ts';
import { closets } from '../language/survey-import/importing.ts';
import { endAll, folderWith, startClient, uriOf } from './client.ts';

const made: { remove: () => void }[] = [];
afterEach(() => {
  endAll();
  for (const folder of made.splice(0)) folder.remove();
});

const project = `project "Quarry Lane" { currency EUR }
board white-16 { depth 16in; thickness 3/4in }
stock white-16 { length 8ft price 20 EUR }
`;

it('a table is asked about, told of by its cells, or becomes edits of the files and a mapping', async () => {
  const folder = folderWith({ 'project.closet': project, 'floors/one.closet': closets });
  made.push(folder);
  const client = await startClient(folder.path);
  const [root] = (await client.connection.sendRequest('storypole/projectView', {})) as { path: string[] }[];
  const ask = (csv: string, more: Partial<ImportAsked> = {}): Promise<ImportAnswer | null> =>
    client.connection.sendRequest('storypole/importSurvey', {
      root: root?.path[0],
      name: 'site.csv',
      contents: Buffer.from(csv).toString('base64'),
      mapping: null,
      ...more,
    });
  const { mapping: _, ...first } = { mapping: null };
  const before = await client.connection.sendRequest('storypole/importSurvey', {
    root: root?.path[0],
    name: 'site.csv',
    contents: '',
    ...first,
  });
  expect(before).toEqual({ kind: 'mapping', uri: uriOf(join(folder.path, 'survey-columns.json')) });
  expect(await ask('unit,length\nA-101,"35,5"\nA-102,36\n')).toMatchObject({
    kind: 'refused',
    asks: expect.arrayContaining(['unit-of-measure', 'decimal-comma']),
  });
  const refused = await ask('unit,length\nA-103,36in\n');
  expect(refused).toEqual({
    kind: 'refused',
    asks: [],
    page: expect.stringMatching(
      /^site\.csv was not taken: 1 cell cannot be taken as it is\. Nothing was written\.\n\nA2 {2}"A-103"\n {4}There is no unit of that name/,
    ),
  });
  expect(await ask('unit,length\nA-101,36in\n', { mapping: '{}' })).toMatchObject({ kind: 'unreadable' });
  expect(await ask('unit,length\nA-101,36in\n', { root: '/nowhere' })).toBeNull();
  const taken = await ask('unit,length\nA-101,"35,5"\n', { measure: 'inches', decimalComma: true });
  expect(taken).toMatchObject({
    kind: 'taken',
    said: '1 new survey',
    mapping: {
      uri: uriOf(join(folder.path, 'survey-columns.json')),
      text: expect.stringContaining('"decimal-comma": true'),
    },
    edits: [
      {
        textDocument: { uri: uriOf(join(folder.path, 'floors/one.closet')) },
        edits: [{ newText: expect.stringContaining('    length 35-1/2in\n') }],
      },
    ],
  });
});
