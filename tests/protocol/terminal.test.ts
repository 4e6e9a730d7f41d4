/** The editor and the terminal tell the same: the same findings of the same files, through the same loader. */
import { execFileSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver-protocol/node';
import { type Client, command, endAll, startClient, uriOf } from './client.ts';

const examples = resolve(import.meta.dirname, '../../examples');
const mistakes = readdirSync(join(examples, 'mistakes')).map((name) => join('mistakes', name));

afterEach(endAll);

interface Shown {
  readonly rule: string;
  readonly severity: string;
  readonly message: string;
  readonly advice: string | null;
  readonly reach: readonly string[];
  readonly range: {
    readonly file: string;
    readonly start: { readonly line: number; readonly column: number };
    readonly end: { readonly line: number; readonly column: number };
  };
}

/** `file:line:column-line:column severity rule`, then the message. */
function line(file: string, d: Pick<Diagnostic, 'range' | 'message'> & { severity: string; rule: string }): string {
  const { start, end } = d.range;
  const at = `${start.line + 1}:${start.character + 1}-${end.line + 1}:${end.character + 1}`;
  return `${file}:${at} ${d.severity} ${d.rule}: ${d.message}`;
}

function inTerminal(folder: string): string[] {
  const args = [command, 'check', folder, '--format', 'json', '--fail-on', 'error'];
  const run = (): string => {
    try {
      return execFileSync(process.execPath, args, { encoding: 'utf8' });
    } catch (error) {
      // Errors found end the command with 1; what it found is written all the same.
      return (error as { stdout: string }).stdout;
    }
  };
  const { projects } = JSON.parse(run()) as { projects: { findings: Shown[] }[] };
  return projects
    .flatMap(({ findings }) => findings)
    .map(({ rule, severity, message, advice, range: { file, start, end } }) =>
      line(resolve(file), {
        range: {
          start: { line: start.line - 1, character: start.column - 1 },
          end: { line: end.line - 1, character: end.column - 1 },
        },
        severity,
        rule,
        message: advice === null ? message : `${message}\n${advice}`,
      }),
    )
    .sort();
}

const severities = ['', 'error', 'warning', 'note'];

function inEditor(client: Client): string[] {
  const latest = new Map(client.published.map((p) => [p.uri, p.diagnostics]));
  return [...latest]
    .flatMap(([uri, diagnostics]) =>
      diagnostics.map((d) =>
        line(decodeURIComponent(new URL(uri).pathname), {
          range: d.range,
          message: String(d.message),
          severity: severities[d.severity ?? 0] ?? '',
          rule: String(d.code),
        }),
      ),
    )
    .sort();
}

/** A message without the units reached that an editor names in it. */
function bare(text: string): string {
  return text.replace(/ \(\d+ units: [^()]*\)(?=\n|$)/, '');
}

describe('what the editor is told is what the terminal tells', () => {
  it.each(['quarry-lane', ...mistakes])('%s', async (name) => {
    const folder = join(examples, name);
    const wanted = inTerminal(folder);
    const client = await startClient(folder);
    // The plan's findings come last, a while after the others, so the right end state is what is waited for.
    const right = (): boolean => JSON.stringify(inEditor(client).map(bare)) === JSON.stringify(wanted);
    await Promise.race([client.until(right), new Promise((late) => setTimeout(late, 10_000))]);
    expect(inEditor(client).map(bare)).toEqual(wanted);
    expect(client.errors).toEqual([]);
    expect(await client.shutDown()).toBe(0);
  });

  it('finds something in every mistake', () => {
    expect(mistakes.length).toBeGreaterThan(10);
    for (const name of mistakes.slice(0, 3)) expect(inTerminal(join(examples, name)), name).not.toEqual([]);
  });

  it('leaves nothing behind of a folder without files', async () => {
    const client = await startClient(undefined);
    expect(client.diagnostics(uriOf(examples))).toBeUndefined();
    await client.shutDown();
  });
});
