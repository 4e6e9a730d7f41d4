/** What `check` writes for CI: SARIF, JUnit XML, annotations of forges, and a list of known findings. */
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { rules } from '../../server/checks/table.ts';
import { type Element, every, parsed } from '../sheets/drawing/xml.ts';
import { folderWith, root, storypole } from './command.ts';

const closet = `project "Quarry Lane" { currency EUR }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft price 20 EUR }
template t {
  board white-12
  wall back { length 48in; height 96in }
  zone a on back { width 50in; shelf s { at 84in } }
}
unit u-1 t
`;

// The schema as OASIS published it (2.1.0, errata of rtm.5), in a package of tools of others.
const sarifSchema = JSON.parse(
  readFileSync(
    createRequire(import.meta.url).resolve('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json'),
    'utf8',
  ),
);
// It is of draft 4, of which it uses nothing that a later one reads otherwise.
const { $schema: _, id: __, ...current } = sarifSchema;
const validate = new Ajv({ strict: false, allErrors: true, validateFormats: false, unicodeRegExp: false }).compile(
  current,
);

interface Result {
  readonly ruleId: string;
  readonly level: string;
  readonly baselineState?: string;
  readonly partialFingerprints: Record<string, string>;
  readonly locations: readonly {
    readonly physicalLocation: {
      readonly region: { readonly startLine: number; readonly charOffset: number; readonly charLength: number };
    };
  }[];
  readonly fixes?: readonly { readonly artifactChanges: readonly unknown[] }[];
}

function sarif(words: readonly string[], folder: string): Result[] {
  const document = JSON.parse(storypole(['check', ...words, '--format', 'sarif'], folder).out);
  expect(validate(document) ? [] : validate.errors).toEqual([]);
  return document.runs[0].results;
}

describe('SARIF', () => {
  it('of every mistake that people make holds to the published schema, with all rules listed', () => {
    const document = JSON.parse(storypole(['check', 'examples/mistakes', '--format', 'sarif'], root).out);
    expect(validate(document) ? [] : validate.errors).toEqual([]);
    const [run] = document.runs;
    expect(run.results.length).toBeGreaterThan(40);
    expect(run.tool.driver.rules.length).toBeGreaterThanOrEqual(rules.length);
    for (const result of run.results) expect(run.tool.driver.rules[result.ruleIndex].id).toBe(result.ruleId);
  });

  it('has the text of each place where the file has it', () => {
    const folder = folderWith({ 'a.closet': closet });
    const [first] = sarif(['a.closet'], folder);
    const { charOffset, charLength, startLine } = first?.locations[0]?.physicalLocation.region ?? {
      charOffset: 0,
      charLength: 0,
      startLine: 0,
    };
    expect(closet.slice(charOffset, charOffset + charLength)).toBe('width 50in');
    expect(closet.split('\n')[startLine - 1]).toContain('width 50in');
    expect(first?.fixes?.length).toBeGreaterThan(0);
  });

  it('has fingerprints that lines do not move, and numbers do', () => {
    const print = (text: string): string[] =>
      sarif(['a.closet'], folderWith({ 'a.closet': text })).map(
        (r) => Object.values(r.partialFingerprints)[0] as string,
      );
    const before = print(closet);
    expect(before.length).toBeGreaterThan(0);
    expect(
      print(`// A comment above.\n\n${closet.replace('{ width 50in; ', '{\n    // Here too.\n    width 50in\n    ')}`),
    ).toEqual(before);
    expect(print(closet.replace('50in', '51in'))).not.toEqual(before);
    // Two of one kind at one place are two.
    const twice = print(closet.replace('unit u-1 t\n', 'unit u-1 t\nboard oak {}\n'));
    expect(new Set(twice).size).toBe(twice.length);
  });
});

describe('a list of known findings', () => {
  it('leaves out what is on it, tells what is new and what is gone, and decides the status', () => {
    const folder = folderWith({ 'a.closet': closet });
    expect(storypole(['check', 'a.closet'], folder).status).toBe(1);
    const made = storypole(['check', 'a.closet', '--baseline', 'known.json', '--update-baseline'], folder);
    expect([made.status, made.out]).toEqual([
      0,
      expect.stringMatching(/^\d findings? written to known\.json as known\.\n$/),
    ]);
    const again = storypole(['check', 'a.closet', '--baseline', 'known.json'], folder);
    expect([again.status, again.out]).toEqual([0, 'No findings in 1 file, 1 unit.\n']);
    expect(again.err).toMatch(/^storypole: \d known findings? left out\.\n$/);
    writeFileSync(join(folder, 'a.closet'), `${closet.replace('50in', '51in')}`);
    const worse = storypole(['check', 'a.closet', '--baseline', 'known.json'], folder);
    expect(worse.status).toBe(1);
    expect(worse.out).toContain('widths-do-not-close');
    expect(worse.err).toContain('not found any more: --update-baseline takes');
    expect(sarif(['a.closet', '--baseline', 'known.json'], folder).map(({ baselineState }) => baselineState)).toContain(
      'new',
    );
  });

  it.each([
    [
      'that is not there',
      undefined,
      /^storypole: known\.json is not there\. Write the list .* with --update-baseline, and commit it\.\n$/,
    ],
    ['that is none', '[1]', /is not a list of known findings/],
    ['of another version', '{"version":99,"findings":[]}', /written by another version/],
  ])('%s is refused', (_, text, why) => {
    const folder = folderWith({ 'a.closet': closet, ...(text !== undefined && { 'known.json': text }) });
    const { status, err, out } = storypole(['check', '--baseline', 'known.json'], folder);
    expect([status, out]).toEqual([2, '']);
    expect(err).toMatch(why);
  });
});

describe('annotations', () => {
  it('are one line a finding for GitHub, whatever is in the text', () => {
    const folder = folderWith({ 'a%,b.closet': closet.replace('zone a on', 'zone a on on') });
    const { out } = storypole(['check', '--format', 'github'], folder);
    for (const line of out.trimEnd().split('\n'))
      expect(line).toMatch(
        /^::(error|warning|notice) file=a%25%2Cb\.closet,line=\d+,endLine=\d+,(col=\d+,endColumn=\d+,)?title=[a-z-]+::[^\n]+$/,
      );
  });

  it('are a list for GitLab, with fingerprints', () => {
    const list = JSON.parse(storypole(['check', '--format', 'gitlab'], folderWith({ 'a.closet': closet })).out);
    expect(list[0]).toEqual({
      description: expect.stringContaining('2in more than there is'),
      check_name: 'widths-do-not-close',
      fingerprint: expect.stringMatching(/^[0-9a-f]{32}$/),
      severity: 'major',
      location: { path: 'a.closet', lines: { begin: 7, end: 7 } },
    });
  });

  it('do not go with fixes or coverage', () => {
    const { status, err } = storypole(['check', '--format', 'github', '--fix'], folderWith({ 'a.closet': closet }));
    expect([status, err]).toEqual([
      2,
      'storypole: --format github is for findings alone, without --fix and --coverage.\n',
    ]);
  });
});

/**
 * What the schema junit-10.xsd of the Jenkins xUnit plugin allows, said again here as far as it is used: attributes, those
 * that must be there first, and children. The file itself was used by hand, with xmllint.
 */
const junit: Readonly<
  Record<
    string,
    { readonly must: readonly string[]; readonly may: readonly string[]; readonly children: readonly string[] }
  >
> = {
  testsuites: { must: [], may: ['name', 'time', 'tests', 'failures', 'errors'], children: ['testsuite'] },
  testsuite: {
    must: ['name', 'tests', 'failures', 'errors'],
    may: ['group', 'time', 'skipped', 'timestamp', 'hostname', 'id', 'package', 'file', 'log', 'url'],
    children: ['testsuite', 'properties', 'testcase', 'system-out', 'system-err'],
  },
  testcase: {
    must: ['name'],
    may: ['time', 'classname', 'group'],
    children: ['skipped', 'error', 'failure', 'system-out', 'system-err'],
  },
  failure: { must: [], may: ['type', 'message'], children: [] },
  'system-out': { must: [], may: [], children: [] },
};

function holds({ name, attributes, children }: Element): void {
  const allowed = junit[name];
  if (!allowed) throw new Error(`no element ${name}`);
  expect(Object.keys(attributes)).toEqual(expect.arrayContaining([...allowed.must]));
  for (const attribute of Object.keys(attributes)) expect([...allowed.must, ...allowed.may]).toContain(attribute);
  for (const child of children) {
    expect(allowed.children).toContain(child.name);
    holds(child);
  }
}

describe('JUnit XML', () => {
  it('of every mistake holds to the published schema', () => {
    const document = parsed(storypole(['check', 'examples/mistakes', '--format', 'junit'], root).out);
    expect(document.name).toBe('testsuites');
    holds(document);
    expect(every(document, 'failure').length).toBeGreaterThan(20);
  });

  it('has a case for each file, and a failure for each finding that counts', () => {
    const folder = folderWith({ 'a.closet': closet, 'b.closet': 'unit <b>&"t" t\n' });
    const { out } = storypole(['check', '--format', 'junit'], folder);
    expect(out).toMatch(
      /^<\?xml version="1\.0" encoding="UTF-8"\?>\n<testsuites name="storypole check" tests="2" failures="2"/,
    );
    expect(out).toContain('type="widths-do-not-close"');
    expect(out).not.toContain('<b>');
  });
});
