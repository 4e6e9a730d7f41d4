/** Whoever asks in the terminal is told what an editor is told: of the same files, through the built server and the built command. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type {
  CallHierarchyIncomingCall,
  CallHierarchyItem,
  CodeLens,
  CompletionItem,
  CompletionList,
  DocumentSymbol,
  InlayHint,
  Location,
  Position,
  SignatureHelp,
} from 'vscode-languageserver-protocol/node';
import { type Client, command, endAll, startClient, uriOf } from './client.ts';

const folder = resolve(import.meta.dirname, '../../examples/quarry-lane');

interface Point {
  readonly line: number;
  readonly column: number;
}
interface Place {
  readonly file: string;
  readonly start: Point;
}
interface Outlined {
  readonly name: string;
  readonly selection: Place;
  readonly children: readonly Outlined[];
}

/** What a command writes as JSON, run in the folder of the example. */
function inTerminal<T>(...words: readonly string[]): T {
  const args = [command, ...words, '--format', 'json'];
  return JSON.parse(execFileSync(process.execPath, args, { cwd: folder, encoding: 'utf8' })) as T;
}

/** `12:5`, counted from 1. */
const shown = ({ line, character }: Position): string => `${line + 1}:${character + 1}`;
const point = ({ line, column }: Point): string => `${line}:${column}`;

describe('the terminal tells what the editor tells', () => {
  let client: Client;
  const about = (file: string): { readonly textDocument: { readonly uri: string } } => ({
    textDocument: { uri: uriOf(join(folder, file)) },
  });
  const ask = <T>(method: string, params: object): Promise<T> => client.connection.sendRequest<T>(method, params);
  const textOf = (file: string): string => readFileSync(join(folder, file), 'utf8');
  /** Of the first place where some words stand, `within` characters on. */
  const placeOf = (file: string, words: string, within: number): Position => {
    const before = textOf(file)
      .slice(0, textOf(file).indexOf(words) + within)
      .split('\n');
    return { line: before.length - 1, character: before.at(-1)?.length ?? 0 };
  };

  beforeAll(async () => {
    client = await startClient(folder, {
      textDocument: { signatureHelp: { signatureInformation: { parameterInformation: { labelOffsetSupport: true } } } },
    });
    for (const file of ['templates/reach-in.closet', 'templates/linen.closet', 'floors/floor-1.closet'])
      await client.open(uriOf(join(folder, file)), textOf(file));
  });
  afterAll(endAll);

  it.each(['templates/reach-in.closet', 'floors/floor-1.closet'])('hints of %s', async (file) => {
    const all = { start: { line: 0, character: 0 }, end: { line: 9999, character: 0 } };
    const hints = await ask<InlayHint[]>('textDocument/inlayHint', { ...about(file), range: all });
    const told = inTerminal<{ hints: { at: Point; label: string }[] }>('hints', file).hints;
    const wanted = hints.map(({ position, label }) => [shown(position), label]);
    expect(wanted.length).toBeGreaterThan(5);
    expect(told.map(({ at, label }) => [point(at), label]).toSorted()).toEqual(wanted.toSorted());
  });

  it.each(['templates/linen.closet', 'floors/floor-1.closet'])('lenses of %s, with the same plan', async (file) => {
    // The editor plans beside the typing, and says until then that it has not.
    const titles = async (): Promise<string[]> => {
      const lenses = await ask<CodeLens[]>('textDocument/codeLens', about(file));
      const resolved = await Promise.all(lenses.map((lens) => ask<CodeLens>('codeLens/resolve', lens)));
      return resolved.map(({ range, command: said }) => `${shown(range.start)} ${said?.title}`).sort();
    };
    const told = inTerminal<{ lenses: { range: Place; title: string }[] }>('lenses', file).lenses;
    const wanted = told.map(({ range, title }) => `${point(range.start)} ${title}`).sort();
    expect(wanted.length).toBeGreaterThan(0);
    await expect.poll(titles, { timeout: 30_000, interval: 200 }).toEqual(wanted);
  });

  it.each([
    ['templates/linen.closet', 'shelf top', 2],
    ['templates/linen.closet', 'at 78in', 3],
    ['templates/linen.closet', 'low and top', 1],
    ['floors/floor-1.closet', 'linen linen', 8],
    ['floors/floor-1.closet', 'reach-in {', 10],
    ['hardware.closet', 'is support', 0],
  ])('what may be written in %s at %s', async (file, words, within) => {
    const position = placeOf(file, words, within);
    const { items } = await ask<CompletionList>('textDocument/completion', { ...about(file), position });
    const inOrder = (a: CompletionItem, b: CompletionItem): number =>
      (a.sortText ?? '') < (b.sortText ?? '') ? -1 : 1;
    const wanted = items.toSorted(inOrder).map(({ label, detail }) => [label, detail ?? null]);
    expect(wanted.length).toBeGreaterThan(0);
    const asked = `${file}:${shown(position)}`;
    const { completions } = inTerminal<{ completions: { label: string; detail: string | null }[] }>('complete', asked);
    expect(completions.map(({ label, detail }) => [label, detail])).toEqual(wanted);
  });

  it('what is being written', async () => {
    const file = 'templates/linen.closet';
    const position = placeOf(file, 'at 78in', 3);
    const help = await ask<SignatureHelp>('textDocument/signatureHelp', { ...about(file), position });
    const [one] = help.signatures;
    const asked = `${file}:${shown(position)}`;
    const { signature } = inTerminal<{
      signature: { label: string; active: number | null; parts: { start: number; end: number }[] };
    }>('signature', asked);
    expect([signature.label, signature.active]).toEqual([one?.label, help.activeParameter]);
    expect(signature.parts.map(({ start, end }) => [start, end])).toEqual(one?.parameters?.map(({ label }) => label));
  });

  it('the outline of a file', async () => {
    const file = 'templates/reach-in.closet';
    interface Told {
      readonly name: string;
      readonly at: string;
      readonly inside: Told[];
    }
    const inEditor = ({ name, selectionRange, children = [] }: DocumentSymbol): Told => ({
      name,
      at: shown(selectionRange.start),
      inside: children.map(inEditor),
    });
    const told = ({ name, selection, children }: Outlined): Told => ({
      name,
      at: point(selection.start),
      inside: children.map(told),
    });
    const symbols = await ask<DocumentSymbol[]>('textDocument/documentSymbol', about(file));
    const { files } = inTerminal<{ files: { symbols: Outlined[] }[] }>('outline', file);
    expect(files.map((one) => one.symbols.map(told))).toEqual([symbols.map(inEditor)]);
  });

  it('who uses a template, and what a shelf is made of', async () => {
    const file = 'templates/reach-in.closet';
    const position = placeOf(file, 'template reach-in', 10);
    const asked = `${file}:${shown(position)}`;
    const [item] = await ask<CallHierarchyItem[]>('textDocument/prepareCallHierarchy', { ...about(file), position });
    const calls = await ask<CallHierarchyIncomingCall[]>('callHierarchy/incomingCalls', { item });
    const { users } = inTerminal<{ users: { name: string; names: Place }[] }>('users', asked);
    const wanted = calls.map(({ from, fromRanges: [range] }) => `${from.name} ${range && shown(range.start)}`);
    expect(wanted.length).toBeGreaterThan(10);
    expect(users.map(({ name, names }) => `${name} ${point(names.start)}`).toSorted()).toEqual(wanted.toSorted());

    const shelf = placeOf(file, 'shelf high', 7);
    const found = await ask<Location[]>('textDocument/typeDefinition', { ...about(file), position: shelf });
    const { locations } = inTerminal<{ locations: Place[] }>('type-definition', `${file}:${shown(shelf)}`);
    expect(locations.map((place) => `${uriOf(join(folder, place.file))} ${point(place.start)}`)).toEqual(
      found.map(({ uri, range }) => `${uri} ${shown(range.start)}`),
    );
    expect(found).toHaveLength(1);
  });
});
