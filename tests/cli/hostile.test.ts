/**
 * Files of anybody's, in the terminal and in what CI reads: names, texts and comments of files, and the names of the files
 * themselves, steer no terminal, give no runner an order and no spreadsheet a formula.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse as parseCsv } from 'csv-parse/sync';
import { lexer, type Token, walkTokens } from 'marked';
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import { looksLikeFormula } from '../../server/sheets/export/inert.ts';
import { elsewhere, hostileProject, hostileTexts, steering } from '../hostile.ts';
import { folderWith, type Run, storypoleEach } from './command.ts';

/** A file with a zero byte in it is no text, and nothing of it is read. */
const readable = hostileTexts.filter(({ text }) => !text.includes('\u0000'));

const quoted = (text: string): string => `"${text.replaceAll(/["\r\n]/g, "'")}"`;

/** Everything at once that people can call something: a unit, a floor, a flat, a phase and a loose part a text. */
const units = readable
  .map(
    ({ text }, at) =>
      `/// ${text}\nunit v-${at} t { floor ${quoted(text)}; flat ${quoted(text)}; phase ${quoted(text)} }\nextra e-${at} { board white; length 20in; floor ${quoted(text)} }\nunit w-${at} ${quoted(text)}\n`,
  )
  .join('');
/** Names that a file can have here. */
const odd = [
  'a\u001b[31m.closet',
  'b\u202eredro.closet',
  'c\n::error::d.closet',
  'e%0A::error::f.closet',
  '=g+1,h;i.closet',
  '<img src=x>&.closet',
  '[j](command:k).closet',
  '$(touch ran).closet',
];

const title = readable.map(({ text }) => text.slice(0, 40)).join(' ');
const folder = folderWith({
  'main.closet': hostileProject(title) + units,
  ...Object.fromEntries(odd.map((name, at) => [name, `unit odd-${at} nothing\nunit even-${at} t { flat "${at}" }\n`])),
});
const commands: readonly (readonly string[])[] = [
  ['check', '--coverage'],
  ['check', '--fix', '--dry-run'],
  ['cuts', '--steps'],
  ['plan'],
  ['takeoff'],
  ['takeoff', '--by', 'floor'],
  ['exceptions'],
  ['format', '--check'],
  ['symbols'],
  ['outline'],
  ['links'],
  ['lenses', 'main.closet', '--why'],
  ['hints', 'main.closet', '--why'],
  ['hover', 'main.closet:3'],
  ['definition', 'main.closet:38:11'],
  ['references', 'main.closet:16'],
  ['users', 'main.closet:16'],
  ['complete', 'main.closet:19:9', '--docs'],
  ['signature', 'main.closet:38:12', '--docs'],
  ['rename', 'main.closet:16', 'other-name', '--dry-run'],
  ['refactor', 'main.closet:16'],
  ['explain', '--at', 'main.closet:26'],
  ['flatten', 'main.closet'],
  ['packet', '--out', 'packet.pdf', '--unit', 'nothing \u001b[31m'],
  ['import', '\u001b[31m.csv'],
  ['check', '\u001b[31m'],
  ['explain', '\u001b[31m'],
  ['cuts', '--floor', '\u001b[31m'],
  ['\u001b[31m'],
  ['--\u001b[31m'],
];
const formats = ['json', 'github', 'gitlab', 'sarif', 'junit'].map((format) => ['check', '--format', format]);
const sheets = ['cuts', 'plan', 'takeoff', 'exceptions'].map((command) => [command, '--format', 'csv']);
const exporting = ['export', '--out', 'lists', '--csv'];
const before = folderWith({ 'main.closet': hostileProject(title) + units.replaceAll('length 20in', 'length 21in') });
const comparing = [[], ['--format', 'markdown'], ['--format', 'html']].map((words) => [
  'compare',
  before,
  '.',
  ...words,
]);

const asked = [...commands, ...formats, ...sheets, exporting, ...comparing];
const answers = new Map(storypoleEach(asked, folder).map((run, at) => [asked[at]?.join(' '), run]));
const said = (words: readonly string[]): Run => {
  const run = answers.get(words.join(' '));
  if (!run) throw new Error(`${words.join(' ')} was not asked`);
  expect(run.err).not.toContain('Something went wrong inside');
  return run;
};

describe('a terminal', () => {
  it.each(commands.map((words) => [words.join(' ').replaceAll('\u001b', 'ESC'), words] as const))(
    'is steered by nothing in what %s says',
    (_, words) => {
      const { out, err } = said(words);
      expect((out + err).length).toBeGreaterThan(0);
      // The line ends are ours.
      for (const line of (out + err).split('\n'))
        expect(steering.test(line), JSON.stringify(line.slice(0, 300))).toBe(false);
    },
  );
});

describe('what CI reads', () => {
  const count = JSON.parse(said(['check', '--format', 'json']).out).findings?.length as number | undefined;

  it('holds one order a finding for GitHub, whatever files and things are called', () => {
    const lines = said(['check', '--format', 'github']).out.trimEnd().split('\n');
    for (const line of lines) {
      expect(line).toMatch(
        /^::(error|warning|notice) file=[^:,]*,line=\d+,endLine=\d+(,col=\d+,endColumn=\d+)?,title=[a-z0-9-]+::/,
      );
      expect(steering.test(line), JSON.stringify(line.slice(0, 300))).toBe(false);
    }
    if (count !== undefined) expect(lines).toHaveLength(count);
    // What would be read as a line end was written as what it is.
    expect(lines.some((line) => line.includes('%250A'))).toBe(true);
  });

  it('is JSON for GitLab and for SARIF', () => {
    expect(JSON.parse(said(['check', '--format', 'gitlab']).out).length).toBeGreaterThan(50);
    const { runs } = JSON.parse(said(['check', '--format', 'sarif']).out);
    const places: string[] = runs[0].results.flatMap(
      (one: { locations: { physicalLocation: { artifactLocation: { uri: string } } }[] }) =>
        one.locations.map(({ physicalLocation }) => physicalLocation.artifactLocation.uri),
    );
    // source: RFC 3986, section 2: what is no letter of an address is percent-encoded
    for (const uri of places) expect(uri).toMatch(/^[\w.~!$&'()*+,;=:@%/?#-]*$/);
    // source: SARIF 2.1.0, section 3.11.6: a link in a message is [text](destination); a bracket is escaped by a backslash
    for (const { message } of runs[0].results) expect(message.text).not.toMatch(/(?<!\\)\[[^\]]*(?<!\\)\]\((?!\d+\))/);
  });

  it('is well-formed XML for JUnit', () => {
    const parser = new SaxesParser();
    const names = new Set<string>();
    parser.on('error', (error) => {
      throw error;
    });
    parser.on('opentag', ({ name }) => names.add(name));
    parser.write(said(['check', '--format', 'junit']).out).close();
    expect([...names].sort()).toEqual(['failure', 'system-out', 'testcase', 'testsuite', 'testsuites']);
  });
});

describe('a spreadsheet', () => {
  it.each([['cuts'], ['plan'], ['takeoff'], ['exceptions']])('is given no formula by %s', (command) => {
    const rows = parseCsv(said([command, '--format', 'csv']).out, { relax_column_count: true }) as string[][];
    expect(rows.length).toBeGreaterThan(1);
    for (const cell of rows.flat())
      if (!/^-?[\d.]+$/.test(cell)) expect(looksLikeFormula(cell), JSON.stringify(cell)).toBe(false);
  });

  it('is given none by the lists of an export', () => {
    said(exporting);
    const files = existsSync(join(folder, 'lists'))
      ? readdirSync(join(folder, 'lists'), { recursive: true, encoding: 'utf8' })
      : [];
    const lists = files.filter((name) => name.endsWith('.csv'));
    expect(lists.length).toBeGreaterThan(3);
    for (const name of lists)
      for (const cell of (
        parseCsv(readFileSync(join(folder, 'lists', name), 'utf8'), { relax_column_count: true }) as string[][]
      ).flat())
        if (!/^-?[\d.]+$/.test(cell)) expect(looksLikeFormula(cell), `${name}: ${JSON.stringify(cell)}`).toBe(false);
  });
});

describe('a report of what changed', () => {
  it('is Markdown that leads nowhere, loads nothing and calls nobody', () => {
    expect(steering.test(said(['compare', before, '.']).out)).toBe(false);
    const report = said(['compare', before, '.', '--format', 'markdown']).out;
    const active: string[] = [];
    walkTokens(lexer(report, { gfm: true }), (token: Token) => {
      if (token.type === 'image' || token.type === 'def') active.push(token.raw);
      if (token.type === 'link' && (token as { href: string }).href.includes(elsewhere)) active.push(token.raw);
      if (token.type === 'html' && !/^<\/?(details|summary)>\s*$/.test(token.raw.trim())) active.push(token.raw);
    });
    expect(active).toEqual([]);
    expect(report).not.toMatch(/@somebody/);
    expect(steering.test(report.replaceAll('\r', ''))).toBe(false);
  });

  it('is a page that holds no mark-up but its own', () => {
    const page = said(['compare', before, '.', '--format', 'html']).out;
    for (const { kind, text } of hostileTexts)
      if (['HTML', 'SVG'].includes(kind) && text.includes('<')) expect(page).not.toContain(text);
  });
});

it('nothing ran', () => {
  expect(existsSync(join(folder, 'ran'))).toBe(false);
});
