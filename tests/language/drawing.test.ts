/** The drawing of the unit under the cursor: which parts it has, where they are written, what was found, what is loose. */
import { describe, expect, it } from 'vitest';
import { type Drawing, type DrawingAsked, drawingAt } from '../../server/language/drawing/drawing.ts';
import type { Layout, Range } from '../../server/model/layout.ts';
import { cursor, cursorIn, type Marked } from './marked.ts';

const at = ({ snapshot, at: offset }: Marked, asked?: DrawingAsked): Drawing | undefined =>
  drawingAt(snapshot, offset, asked);
const drawn = (marked: string, asked?: DrawingAsked): Drawing => at(cursor(marked), asked) as Drawing;

const reachIn = `template reach-in {
  parameter width: length = 94in from 92in to 98in
  board white-12
  pole chrome
  wall left { length 25in; height 96in }
  wall back { length width; height 96in }
  zone shirts on back {
    width 48in
    shelf high { at 84in }
    rod upper { under high by 3in; from wall 9in }
    shelves loose between low and high { count 2 }
    shelf low { at 42in }
  }
  zone coats on back after shirts { width fill at least 20in; shelf top { at 72in } }
  zone side on left { width 12in; shelf ledge { at 40in } }
}
unit a reach-in { width 93-3/4in }
unit b reach-in mirrored
`;
const put = (words: string): string => reachIn.replace(words, `|${words}`);

describe('which part the cursor is in', () => {
  it.each([
    ['a shelf', 'shelf high { at', ['shelves shirts.high'], 'elevation back'],
    ['the height of a shelf', 'at 84in', ['shelves shirts.high'], 'elevation back'],
    ['a rod', 'under high by 3in', ['rods shirts.upper'], 'elevation back'],
    ['a row of shelves', 'count 2', ['shelves shirts.loose.2', 'shelves shirts.loose.1'], 'elevation back'],
    ['a zone', 'width fill', ['zones coats'], 'elevation back'],
    ['a wall', 'height 96in }\n  wall back', ['walls left'], 'elevation left'],
    ['what stands on another wall', 'shelf ledge', ['shelves side.ledge'], 'elevation left'],
    ['nothing that is drawn', 'parameter width', [], 'elevation back'],
  ])('%s', (_, words, keys, view) => {
    const drawing = drawn(put(words));
    expect(drawing.current).toEqual(keys);
    expect(drawing.view).toBe(view);
  });

  it('is outlined in the view that was asked for, where it is seen there', () => {
    expect(drawn(put('shelf high'), { view: 'plan' }).current).toEqual(['shelves shirts.high']);
    expect(drawn(put('shelf high'), { view: 'section shirts' }).current).toEqual(['shelves shirts.high']);
    expect(drawn(put('shelf high'), { view: 'section coats' }).current).toEqual([]);
    expect(drawn(put('shelf high'), { view: 'elevation left' }).current).toEqual([]);
  });

  it('in an override is what is overridden, and in a survey the wall that was measured', () => {
    const over = `${reachIn}unit c reach-in { override shirts.high { at 8|0in } }\n`;
    expect(drawn(over).current).toEqual(['shelves shirts.high']);
    const survey = `${reachIn}survey a { wall back { length 93|in at 40in } }\n`;
    expect(drawn(survey)).toMatchObject({ unit: { name: 'a' }, current: ['walls back'], view: 'elevation back' });
  });

  it('a wall and a zone of one name are told apart', () => {
    const text =
      'template t { wall back { length 40in; height 96in }; board white-12; zone back on back { width 4|0in } }\n';
    expect(drawn(text).current).toEqual(['zones back']);
  });
});

describe('the unit that is drawn', () => {
  it('is the one that the cursor is in', () => {
    expect(drawn(put('unit b')).unit).toEqual({ kind: 'unit', name: 'b', where: '', isHere: true });
  });

  it('stands for its template where it was drawn before; else the template is drawn with its defaults', () => {
    const before = { kind: 'unit', name: 'b' } as const;
    expect(drawn(put('shelf low'), { before }).unit).toMatchObject({ name: 'b', where: 'As unit b.' });
    expect(drawn(put('shelf low')).unit).toMatchObject({ kind: 'template', where: 'With the defaults (width 94in).' });
    const other = { kind: 'unit', name: 'gone' } as const;
    expect(drawn(put('shelf low'), { before: other }).unit).toMatchObject({ kind: 'template', name: 'reach-in' });
  });

  it('is the first that is not mirrored where the template has no defaults', () => {
    const text = put('shelf low')
      .replace(' = 94in', '')
      .replace('unit b reach-in mirrored', 'unit b reach-in { width 95in }');
    const turned = text.replace('unit a reach-in', 'unit a reach-in mirrored');
    expect(drawn(turned).unit).toMatchObject({ kind: 'unit', name: 'b', where: 'As unit b.' });
  });

  it('alone is brought up to date for it, whatever else rests on what was edited', () => {
    const { snapshot, at: offset } = cursor(
      `${put('at 42in')}${Array.from({ length: 20 }, (_, i) => `unit u-${i} reach-in { width ${92 + i / 4}in }\n`).join('')}`,
    );
    const { project } = snapshot;
    const before = { kind: 'unit', name: 'a' } as const;
    drawingAt(snapshot, offset, { before });
    project.editFile('/p/main.closet', [{ start: offset + 3, end: offset + 5, text: '41' }]);
    const computed = project.computations;
    const drawing = drawingAt(snapshot, offset, { before }) as Drawing;
    expect(project.computations - computed).toBe(1);
    expect(project.declarationsLeft).toBeGreaterThan(20);
    expect(drawing.parts.find(({ path }) => path === 'shirts.low')?.label).toContain('underside at 41in');
    // What follows finds it done, and comes to the same.
    project.refreshNow();
    expect(drawingAt(snapshot, offset, { before })?.sheet).toBe(drawing.sheet);
  });

  it('goes on being drawn while the cursor is elsewhere', () => {
    const before = { kind: 'unit', name: 'a' } as const;
    const drawing = drawn(`|// a comment\n${reachIn}`, { before, lastView: 'elevation left' });
    expect(drawing).toMatchObject({ unit: { name: 'a', isHere: false }, current: [], view: 'elevation left' });
    expect(at(cursor(`|// a comment\n${reachIn}`))).toBeUndefined();
    expect(at(cursor('|'), { before })).toBeUndefined();
  });

  it('is told of where nothing of it is known, and a request past the end is answered', () => {
    expect(drawn('unit a no|where\n')).toMatchObject({
      sheet: undefined,
      problem: expect.stringContaining('a cannot be drawn'),
    });
    expect(drawn('unit a no|where\n').findings.length).toBeGreaterThan(0);
    expect(drawn('template t { bo|ard white-12 }\n').problem).toContain('no wall');
    const { snapshot } = cursor(put('unit b'));
    expect(() => drawingAt(snapshot, 1_000_000)).not.toThrow();
  });
});

describe('each part', () => {
  it('leads back to its statement, as of now and in the file where it is written', () => {
    const marked = cursorIn({ 'one.closet': reachIn, 'two.closet': `unit c rea|ch-in { width 95in }\n` });
    const { parts } = at(marked) as Drawing;
    expect(parts.length).toBeGreaterThan(8);
    for (const { path, span, layer } of parts) {
      expect(span?.file, path).toBe('/p/one.closet');
      const text = reachIn.slice(span?.start, span?.end);
      const word = { shelves: 'shel', rods: 'rod', zones: 'zone', walls: 'wall' }[layer as 'rods'];
      expect(text.startsWith(word), `${path}: ${text}`).toBe(true);
    }
  });

  it('moves with the text above it while the drawing stays the same object', () => {
    const { snapshot, at: offset, text } = cursor(put('unit a'));
    const before = drawingAt(snapshot, offset) as Drawing;
    const insert = '// one more line\n';
    snapshot.project.editFile('/p/main.closet', [{ start: 0, end: 0, text: insert }]);
    snapshot.project.refreshNow();
    const after = drawingAt(snapshot, offset + insert.length) as Drawing;
    expect(text).not.toContain(insert);
    expect(after.sheet).toBe(before.sheet);
    expect(after.parts.map(({ span }) => span?.start)).toEqual(
      before.parts.map(({ span }) => (span?.start ?? 0) + insert.length),
    );
  });

  it('tells its length and the amounts that add up to it, its height, and who set that', () => {
    const part = (path: string) => drawn(put('unit a')).parts.find((one) => one.path === path);
    // By hand: the zone is 48 in and white-12 loses nothing at its ends.
    expect(part('shirts.high')).toMatchObject({
      label: 'shelf shirts.high, 48in long, underside at 84in',
      facts: ['cut 48in of white-12', 'at 84in to its underside, by "at 84in"'],
      steps: [
        { amount: '48in', what: 'width of zone shirts' },
        { amount: '48in', what: 'finished length' },
      ],
    });
    // By hand: 48 in less a cup of 3/8 in at each end.
    expect(part('shirts.upper')?.steps.at(-1)).toEqual({ amount: '47-1/4in', what: 'finished length' });
    expect(part('shirts.upper')?.facts).toContain('at 81in to its centre, by "under high by 3in"');
    expect(part('coats')?.facts[0]).toBe('45-3/4in wide, what the others leave');
  });

  it('stands in the order in which it is read: from the left, and from the top down', () => {
    const { parts } = drawn(put('unit a'), { view: 'elevation back' });
    expect(parts.map(({ path }) => path)).toEqual([
      ...['back', 'shirts', 'shirts.high', 'shirts.upper', 'shirts.loose.2', 'shirts.loose.1', 'shirts.low'],
      ...['coats', 'coats.top'],
    ]);
  });

  it('has a group of its own in the drawing, and no style, script or address stands in it', () => {
    for (const view of drawn(put('unit a')).views) {
      const { sheet, parts } = drawn(put('unit a'), { view: view.id });
      for (const { path, layer } of parts) expect(sheet?.svg).toContain(`data-layer="${layer}" data-part="${path}"`);
      expect(sheet?.svg).not.toMatch(/<style|<script|href|url\(|style=/);
    }
  });
});

describe('the views of a unit', () => {
  it('are its walls, the plan, and a section of each zone', () => {
    expect(drawn(put('unit a')).views.map(({ id }) => id)).toEqual([
      ...['elevation back', 'elevation left', 'plan', 'section shirts', 'section coats', 'section side'],
    ]);
  });

  it('can be had for paper, in its own colours and with its own rules', () => {
    const { sheet } = drawn(put('unit a'), { isForPaper: true });
    expect(sheet?.svg).toContain('<style>');
    expect(sheet?.svg).not.toContain('tabindex');
  });

  it('take the room that there is', () => {
    const small = drawn(put('unit a'), { width: 120, height: 100 }).sheet;
    const large = drawn(put('unit a'), { width: 600, height: 400 }).sheet;
    expect(small?.scale).toBeGreaterThan(large?.scale ?? 0);
    // As wide or as high as the room, or nearly so.
    const used = Math.max((large?.width ?? 0) / 600, (large?.height ?? 0) / 400);
    expect(used).toBeGreaterThan(0.9);
    expect(used).toBeLessThan(1.05);
    expect(drawn(put('unit a'), { width: Number.NaN, height: -1 }).sheet).toBeDefined();
  });

  it('say lengths as the project does, and in feet where that is asked for', () => {
    expect(drawn(put('unit a'), { view: 'elevation back' }).sheet?.svg).toContain('93-3/4&#34;');
    expect(drawn(put('unit a'), { view: 'elevation back', isInFeet: true }).sheet?.svg).toContain('7&#39;-9 3/4&#34;');
  });
});

describe('findings', () => {
  const wrong = reachIn.replace('shelf low { at 42in }', 'shelf low { at 42in; board nothing }');

  it('are numbered, the worst first, and lead to where they are', () => {
    const { findings, banner } = drawn(wrong.replace('unit a', '|unit a'));
    expect(findings.map(({ number }) => number)).toEqual(findings.map((_, i) => i + 1));
    expect(findings[0]).toMatchObject({ severity: 'error', span: { file: '/p/main.closet' } });
    expect(banner).toMatch(/^\d+ errors? in a: what is drawn may not be/);
    expect(drawn(reachIn.replace('unit a', '|unit a')).banner).toBeUndefined();
  });

  it('stand at the part that they are about by their numbers', () => {
    const text = reachIn.replace('under high by 3in;', 'at 38in; for long-coat;').replace('unit a', '|unit a');
    const { findings, parts, sheet } = drawn(text, { view: 'elevation back' });
    const about = findings.filter((finding) => finding.about === 'shirts.upper').map(({ number }) => number);
    expect(about.length).toBeGreaterThan(0);
    expect(parts.find(({ path }) => path === 'shirts.upper')?.findings).toEqual(about);
    expect(sheet?.svg).toContain(
      `aria-label="${about.length > 1 ? 'findings' : 'finding'} ${about.join(', ')} at shirts.upper"`,
    );
  });
});

describe('what is loose', () => {
  const loose = `template t {
  board white-12
  wall back { length 90in; height 96in }
  zone left on back { width from 30in to 50in; shelf top { at from 70in to 74in }; shelf low { at 40in } }
  zone right on back after left { width from 40in to 60in }
}
unit u t
`;
  const marked = cursor(loose.replace('unit u', '|unit u'));
  const layout = (): Layout => [...marked.snapshot.project.units()][0]?.resolved?.layout as Layout;

  it('is as loose as the layout says, and no more is told', () => {
    const expected = layout().zones.flatMap(({ path, from, width, fittings }) => [
      ...range(path, 'left end', from),
      ...range(path, 'width', width),
      ...fittings.flatMap((fitting) => range(fitting.path, 'height', fitting.at)),
    ]);
    const { slack } = at(marked) as Drawing;
    expect(slack).toEqual(expected);
    expect(slack.map(({ of, what }) => `${what} of ${of}`)).toEqual([
      ...['width of left', 'height of left.top', 'left end of right', 'width of right'],
    ]);
  });

  it('is drawn in a layer of its own, each limit where it is', () => {
    const { sheet } = at(marked) as Drawing;
    const labels = [...(sheet?.svg ?? '').matchAll(/data-layer="slack" data-part="([^"]+)"[^>]*aria-label="([^"]+)"/g)];
    expect(labels.map(([, part]) => part)).toContain('left.top');
    expect(labels.map(([, , label]) => label)).toContain('height of left.top: anywhere from 70in to 74in');
    expect(at(marked, { isSlackHidden: true })?.sheet?.svg).not.toContain('data-layer="slack"');
  });

  it('is nowhere in a unit where everything is settled', () => {
    expect(drawn(put('unit a')).slack).toEqual([]);
    expect(drawn(put('unit a')).sheet?.svg).not.toContain('data-layer="slack"');
  });

  function range(of: string, what: string, { value, least, most }: Range): object[] {
    return least === value && most === value ? [] : [{ of, what, value, least, most }];
  }
});
