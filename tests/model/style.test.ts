/** The style of a file in which blocks lack their braces: the indentation that tells them is kept, so that nothing else is told. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formattingOf, withEdits } from '../../grammar/format.ts';
import { Source } from '../../grammar/source.ts';
import { styleOf } from '../../server/model/style.ts';
import { topWords } from '../../server/model/vocabulary.ts';
import { anySoup } from '../grammar/texts.ts';
import { saidOfFile } from './said.ts';

const sourceOf = (text: string): Source => new Source('a.closet', text, topWords);
const styled = (text: string): string => withEdits(text, styleOf(sourceOf(text)).edits);
const told = (text: string): string[] => saidOfFile(text).map(({ found }) => `${found.rule.id} ${found.message}`);

const tidy = `board oak
  depth 12in
  // As sold.
  thickness 3/4in

stock oak { length 8ft }
template linen
  parameter width: length = 60in
  board oak; depth 12in

  wall back { length width; height 96in }
  zone main on back
    width fill
    shelf top {
      at 72in
    }
unit a linen
`;

describe('a block without its braces', () => {
  it.each([
    ['as it is written best', tidy],
    ['by more than a level', tidy.replaceAll(/^ +/gm, (lead) => lead.repeat(3))],
    ['by tabs', tidy.replaceAll(/^ +/gm, (lead) => '\t'.repeat(lead.length / 2))],
    ['by one space', tidy.replaceAll(/^ +/gm, (lead) => ' '.repeat(lead.length / 2))],
  ])('keeps its lines a level deeper: %s', (_, text) => {
    expect(styled(text)).toBe(tidy);
    expect(told(styled(text))).toEqual(told(text));
    expect(told(tidy)).toHaveLength(2);
  });

  it('keeps them within a block that has its own', () => {
    const text = 'template t {\n    zone a on back\n        width fill\n    depth 12in\n}\n';
    expect(styled(text)).toBe('template t {\n  zone a on back\n    width fill\n  depth 12in\n}\n');
  });

  it('is laid out in CRLF files as in others', () => {
    expect(styled('board  oak\r\n    depth 12in\r\n')).toBe('board oak\r\n  depth 12in\r\n');
  });

  it('keeps nothing where another word begins a declaration, or no block is missing', () => {
    expect(styled('board oak { depth 12in }\n  board ash { depth 12in }\n')).toBe(
      'board oak { depth 12in }\nboard ash { depth 12in }\n',
    );
  });

  it('is in order once it is laid out, with the same told of it, whatever stands in it', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.constantFrom(...tidy.split('\n')), fc.nat(6)), { maxLength: 14 }), (lines) => {
        const text = `${lines.map(([line, lead]) => ' '.repeat(lead) + line.trim()).join('\n')}\n`;
        const once = styled(text);
        expect(styled(once)).toBe(once);
        expect(told(once)).toEqual(told(text));
      }),
      { numRuns: 500 },
    );
  });
});

describe('the style of any other text', () => {
  it('is that of its braces', () => {
    fc.assert(
      fc.property(anySoup, (text) => {
        const source = sourceOf(text);
        if (told(text).some((one) => one.startsWith('braces-missing'))) return;
        expect(styleOf(source)).toEqual(formattingOf(source));
      }),
    );
  });
});
