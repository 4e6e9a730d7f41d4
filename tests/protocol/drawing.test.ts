/** What the built server answers to a panel that shows the drawing of the unit under the cursor. */
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import type { AboutDrawing, ShownDrawing } from '../../server/protocol/features/drawing.ts';
import { endAll, folderWith, startClient, uriOf } from './client.ts';

const made: { remove: () => void }[] = [];
afterEach(() => {
  endAll();
  for (const folder of made.splice(0)) folder.remove();
});

const project = `project "Quarry Lane"
board oak { depth 12in; thickness 3/4in }
stock oak { length 12ft unlimited }
`;
const templates = `// Shared.
template linen {
  wall back { length 36in; height 96in }
  board oak
  zone main on back { width fill; shelf top { at from 72in to 75in } }
}
`;
const units = 'unit A-101 linen { floor 1 }\nunit A-201 linen { floor 2; board nothing }\n';

async function started() {
  const folder = folderWith({ 'project.closet': project, 'templates.closet': templates, 'units.closet': units });
  made.push(folder);
  const client = await startClient(folder.path);
  const at = (file: string, line: number, character: number, more: Partial<AboutDrawing> = {}) =>
    client.connection.sendRequest<ShownDrawing | null>('storypole/drawing', {
      textDocument: { uri: uriOf(join(folder.path, file)) },
      position: { line, character },
      ...more,
    });
  return { client, folder: folder.path, at };
}

it('answers the drawing, with the statements that its parts lead to in whatever file they are', async () => {
  const { client, folder, at } = await started();
  const drawing = await at('units.closet', 0, 8);
  expect(drawing).toMatchObject({ unit: { kind: 'unit', name: 'A-101' }, view: 'elevation back', current: [] });
  expect(drawing?.sheet?.svg).toMatch(/^(<!--.*-->\n)?<svg /);
  expect(drawing?.parts.find(({ key }) => key === 'shelves main.top')?.location).toEqual({
    uri: uriOf(join(folder, 'templates.closet')),
    range: { start: { line: 4, character: 34 }, end: { line: 4, character: 43 } },
  });
  expect(drawing?.slack).toEqual(['height of main.top: anywhere from 72in to 75in']);
  expect(await at('project.closet', 0, 3)).toBeNull();
  expect(await at('not-there.closet', 0, 3)).toBeNull();
  expect((await at('units.closet', 900, 900))?.unit.name ?? 'none').toBe('none');
  expect(client.errors).toEqual([]);
});

it('does not send a picture again that the client has, and says where the cursor is in it', async () => {
  const { at } = await started();
  const first = await at('templates.closet', 4, 40);
  expect(first?.current).toEqual(['shelves main.top']);
  const known = first?.sheet?.revision as number;
  const second = await at('templates.closet', 4, 8, { known });
  expect(second?.sheet?.revision).toBe(known);
  expect(second?.sheet?.svg).toBeUndefined();
  expect(second?.current).toEqual(['zones main']);
  expect((await at('templates.closet', 4, 40, { known, view: 'plan' }))?.sheet?.svg).toBeDefined();
});

it('follows an edit at once, and keeps the unit that was drawn while another file is edited', async () => {
  const { client, folder, at } = await started();
  const uri = uriOf(join(folder, 'templates.closet'));
  await client.open(uri, templates);
  const known = (await at('units.closet', 0, 8))?.sheet?.revision as number;
  await client.change(uri, 2, [{ from: [2, 21], to: [2, 23], text: '40' }]);
  const before = { kind: 'unit', name: 'A-101' } as const;
  const after = await at('templates.closet', 2, 22, { known, before });
  expect(after?.unit).toMatchObject({ name: 'A-101', where: 'As unit A-101.' });
  expect(after?.current).toEqual(['walls back']);
  expect(after?.sheet?.svg).toContain('40&#34;');
  const elsewhere = await at('project.closet', 0, 3, { before });
  expect(elsewhere?.unit).toMatchObject({ name: 'A-101', isHere: false });
});

it('answers a file full of errors, and says what was found with its place', async () => {
  const { client, folder, at } = await started();
  const uri = uriOf(join(folder, 'units.closet'));
  await client.open(uri, units);
  const drawing = await at('units.closet', 1, 8);
  expect(drawing?.banner).toMatch(/error/);
  expect(drawing?.findings[0]).toMatchObject({ number: 1, severity: 'error', location: { uri } });
  await client.change(uri, 2, [{ from: [0, 0], to: [2, 0], text: 'unit A-101 {{{ zone ; " at\n' }]);
  await at('units.closet', 0, 6);
  expect(client.errors).toEqual([]);
});
