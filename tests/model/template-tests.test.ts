/** Tests that templates carry, in the language. */
import { describe, expect, it } from 'vitest';
import { projectOf, told } from './support.ts';

const closet = (tests: string): string => `template t {
  parameter w: length from 40in to 96in
  board white-12
  pole chrome
  wall back { length w; height 96in }
  zone a on back {
    width 30in
    shelf high { at 84in }
    rod r { under high by 3in; for shirt }
  }
  gap rest on back after a { width fill }
${tests}
}
`;

function failures(tests: string): string[] {
  return projectOf(closet(tests))
    .findings()
    .filter((f) => f.rule.id !== 'unit-not-used')
    .map((f) => `${f.severity} ${f.rule.id}: ${told(f).text.trim()}`);
}

describe('a test of a template', () => {
  it('holds where every dimension is as it says, and nothing is found that it does not name', () => {
    expect(
      failures(`  test "narrow" {
    w 40in
    expect a width 30in
    expect a.high at 84in
    expect a.r at 81in
    // 30in less 3/8in at each end, by hand.
    expect a.r length 29-1/4in
    expect rest width w - 30in
    expect rest at 30in
    expect a.high depth 12in
    finds nothing
  }`),
    ).toEqual([]);
  });

  it.each([
    [
      'a height',
      'expect a.high at 85in',
      'error test-failed: Test "x" expects "a.high" at 85in, and it stands at 84in. Mend the template, or write in the test what is right.',
    ],
    [
      'a width',
      'expect rest width 11in',
      'error test-failed: Test "x" expects a width of 11in for "rest", and it is 10in. Mend the template, or write in the test what is right.',
    ],
    [
      'a cut length',
      'expect a.r length 30in',
      'error test-failed: Test "x" expects a length of 30in for "a.r", and it is 29-1/4in. Mend the template, or write in the test what is right.',
    ],
    [
      'what a thing has not',
      'expect a length 30in',
      'error test-failed: Test "x" expects a length of "a", which has none. Expect at, width of it.',
    ],
    [
      'a thing that is not there',
      'expect a.hihg at 84in',
      'error name-not-known: There is no "a.hihg" in template "t" as it is tested. Did you mean "a.high"?',
    ],
    [
      'a rule that is not there',
      'finds no-such',
      'error name-not-known: There is no rule "no-such". storypole explain lists them all.',
    ],
    ['a rule that does not speak', 'finds shelves-overlap at a.high', undefined],
  ])('fails on %s', (_, statement, message) => {
    const found = failures(`  test "x" { w 40in; ${statement} }`);
    if (message) expect(found).toEqual([message]);
    else expect(found[0]).toMatch(/^error (test-failed|name-not-known): /);
  });

  it('fails on an error that it does not name, and holds once it does', () => {
    const low = (tests: string): string => closet(tests).replace('at 84in', 'at 84in; depth 13in');
    const rulesOf = (text: string): string[] =>
      projectOf(text)
        .findings()
        .map((f) => `${f.rule.id} ${f.place.statement.word.text}`);
    const ripped = low('  test "x" { w 40in }').replace('board white-12\n', 'board white-16; depth 13in\n');
    expect(rulesOf(ripped).filter((r) => r.startsWith('test-failed'))).toEqual([]);
    const wide = closet('  test "x" { w 40in }').replace('width 30in', 'width 50in');
    expect(rulesOf(wide)).toContain('test-failed test');
    const named = closet('  test "x" { w 40in; finds widths-do-not-close }').replace('width 30in', 'width 50in');
    expect(rulesOf(named)).not.toContain('test-failed test');
  });

  it('fails once on a sum that does not come out, and not on what stands nowhere for it', () => {
    const found = failures(`  zone b on back after rest { width 90in }
  test "narrow" {
    w 40in
    expect a width 30in
    expect a.high at 84in
  }`);
    expect(found.map((one) => one.split(': ')[0])).toEqual(['error test-failed', 'error widths-do-not-close']);
  });

  it('is given what a unit would give, and told of it alike', () => {
    expect(failures('  test "x" { expect a.high at 84in }')[0]).toMatch(
      /^error argument-missing: Test "x" does not give "w", which template "t" needs\./,
    );
    expect(failures('  test "x" { w 30in }').join()).toContain('argument');
    expect(failures('  test "x" { w 40in; v 3in }')[0]).toMatch(
      /^error name-not-known: Template "t" has no parameter "v"\./,
    );
  });

  it('says nothing of what comes of a template that cannot be read: that is told where it stands', () => {
    const rulesOf = (text: string): string[] =>
      projectOf(text)
        .findings()
        .map((f) => f.rule.id);
    const tests = '  test "x" { w 40in; expect a.high at 84in; expect a.r at 81in; finds nothing }';
    expect(rulesOf(closet(tests).replace('at 84in }', 'at 84 }'))).toEqual(['unit-of-measure-missing']);
    expect(rulesOf(closet(tests).replace('board white-12', 'board none'))).toEqual(['name-not-known']);
    expect(rulesOf(closet(tests).replace('shelf high {', 'shelve high {'))).toContain('word-not-known');
    expect(rulesOf(closet(tests).replace('shelf high {', 'shelve high {'))).not.toContain('test-failed');
  });

  it('of a mirrored room has its zones from the other side', () => {
    expect(failures('  test "x" mirrored { w 40in; expect a at 10in; expect rest at 0in }')).toEqual([]);
  });

  it('makes nothing that is cut, and is not inherited', () => {
    const project = projectOf(
      `${closet('  test "x" { w 40in; expect a.high at 85in }')}template v extends t { parameter w: length = 50in }\n`,
    );
    expect(project.findings().filter((f) => f.rule.id === 'test-failed')).toHaveLength(1);
    expect([...project.units()]).toEqual([]);
    expect(
      [...project.tested()].map(({ template, results }) => [template.name, results.map((r) => r.failures.length)]),
    ).toEqual([['t', [1]]]);
  });

  it('is run again where what it rests on is another', () => {
    const project = projectOf(closet('  test "x" { w 40in; expect a.high at 84in }'));
    expect(project.findings()).toEqual([]);
    const text = project.sources.get('/p/main.closet')?.text ?? '';
    const at = text.indexOf('84in');
    project.editFile('/p/main.closet', [{ start: at, end: at + 2, text: '85' }]);
    project.refreshNow();
    expect(project.findings().map((f) => f.rule.id)).toEqual(['test-failed']);
  });
});
