/** The quick fixes that the built server offers: asked for, applied, and the finding is gone. */
import { join } from 'node:path';
import { afterAll, afterEach, expect, it } from 'vitest';
import type { CodeAction } from 'vscode-languageserver-protocol/node';
import { endAll, folderWith, startClient, uriOf } from './client.ts';

const folder = folderWith({
  'project.closet': `project "Quarry Lane" { show inches }
board white-12 { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/4in }
stock white-12 { length 8ft }
stock chrome { length 8ft }
garment shirt { hang 38in; hanger 17in }
`,
});
afterEach(endAll);
afterAll(folder.remove);

const zones = (...inside: readonly string[]): string => `template t {
  wall left { length 24in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 24in; height 96in }
  board white-12
  pole chrome
${inside.map((zone) => `  ${zone}\n`).join('')}}
unit u t
`;

const cases: readonly (readonly [what: string, text: string, rule: string, title: string])[] = [
  [
    'a unit of measure',
    zones('zone a on back { width fill; shelf s { at 40 } }'),
    'unit-of-measure-missing',
    'Write 40in',
  ],
  [
    'the name of a board',
    zones('zone a on back { width fill; shelf s { at 40in; board whit-12 } }'),
    'name-not-known',
    'Write "white-12"',
  ],
  ['a word', zones('zone a on back { width fill; shlef s { at 40in } }'), 'word-not-known', 'Write "shelf"'],
  [
    // 40 + 30 = 70 in on a wall of 60 in.
    'a width that closes along a wall',
    zones(
      'zone a on back { width 40in; shelf s { at 40in } }',
      'zone b on back after a { width 30in; shelf s { at 40in } }',
    ),
    'widths-do-not-close',
    'Write 20in instead of 30in for b',
  ],
  [
    // 3 in under 80 in is 77 in.
    'a height that closes up a zone',
    zones('zone a on back { width fill; shelf s { at 80in }; rod r { at 78in; under s by 3in; for shirt } }'),
    'heights-do-not-close',
    'Write 77in instead of 78in for r',
  ],
  [
    'a rod that is too low',
    zones('zone a on back { width fill; rod r { at 30in; for shirt } }'),
    'garment-meets-floor',
    'Write 38in instead of 30in for r',
  ],
  [
    'a rod that is too near the wall',
    zones('zone a on back { width fill; rod r { at 60in; for shirt; from wall 6in } }'),
    'rod-near-wall',
    'Write 8-1/2in instead of 6in for r',
  ],
  [
    // 24 in of closet less half of a hanger.
    'a rod that is too near the front',
    zones('zone a on back { width fill; rod r { at 60in; for shirt; from wall 20in } }'),
    'rod-near-front',
    'Write 15-1/2in instead of 20in for r',
  ],
  [
    // 60 - 40 = 20 in.
    'a gap for what is left over',
    zones('zone a on back { width 40in; shelf s { at 40in } }'),
    'width-left-over',
    'Write gap rest on back after a { width fill }',
  ],
];

it.each(cases)('%s', async (_, text, rule, title) => {
  const uri = uriOf(join(folder.path, 'layout.closet'));
  const client = await startClient(folder.path);
  await client.open(uri, text);
  const rules = (): unknown[] => (client.diagnostics(uri) ?? []).map((d) => d.code);
  await client.until(() => rules().includes(rule));
  const diagnostic = client.diagnostics(uri)?.find((d) => d.code === rule);
  const actions = await client.connection.sendRequest<CodeAction[]>('textDocument/codeAction', {
    textDocument: { uri },
    range: diagnostic?.range,
    context: { diagnostics: [diagnostic] },
  });
  const action = actions.find((a) => a.title === title);
  expect(actions.map((a) => a.title)).toContain(title);
  expect(action?.kind).toBe('quickfix');
  // An editor shows the action with its diagnostic where the two are the same.
  expect(action?.diagnostics?.[0]).toEqual(diagnostic);
  const edits = action?.edit?.changes?.[uri] ?? [];
  await client.connection.sendNotification('textDocument/didChange', {
    textDocument: { uri, version: 2 },
    contentChanges: edits.map(({ range, newText }) => ({ range, text: newText })),
  });
  await client.until(() => client.published.some((p) => p.uri === uri && p.version === 2));
  expect(rules()).not.toContain(rule);
  expect(client.errors).toEqual([]);
  await client.shutDown();
});
