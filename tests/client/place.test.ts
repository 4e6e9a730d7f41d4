/** A place that stays with its words, held against the plain way: edit the whole text and look where the words went. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Change, moved, type Place } from '../../client/place.ts';

function placeAt(text: string, offset: number): Place {
  const before = text.slice(0, offset).split('\n');
  return { line: before.length - 1, character: before.at(-1)?.length ?? 0 };
}

/** A text, the stretches of it to replace (apart from each other), and a mark that stands in none of them. */
const edits = fc
  .record({
    pieces: fc.array(fc.stringMatching(/^[ab\n]{1,6}$/), { minLength: 3, maxLength: 9 }),
    texts: fc.array(fc.stringMatching(/^[xy\n]{0,5}$/), { minLength: 9, maxLength: 9 }),
    markAt: fc.nat({ max: 8 }),
    order: fc.nat({ max: 1000 }),
  })
  .map(({ pieces, texts, markAt, order }) => {
    // Every other piece is replaced; the mark is put at the start of a piece that stays.
    const stays = (index: number) => index % 2 === 0;
    const kept = pieces.map((_, index) => index).filter(stays);
    const mark = kept[markAt % kept.length] ?? 0;
    const changes: Change[] = [];
    let offset = 0;
    let before = '';
    let after = '';
    const text = pieces.join('');
    pieces.forEach((piece, index) => {
      if (index === mark) {
        before = text.slice(0, offset);
        after = pieces.slice(0, index).reduce((sum, part, i) => sum + (stays(i) ? part : texts[i]), '');
      }
      if (!stays(index)) {
        const range = { start: placeAt(text, offset), end: placeAt(text, offset + piece.length) };
        changes.push({ range, text: texts[index] ?? '' });
      }
      offset += piece.length;
    });
    const shuffled = order % 2 === 0 ? changes : changes.toReversed();
    return { changes: shuffled, before: placeAt(before, before.length), after: placeAt(after, after.length) };
  });

describe('a place in a changing text', () => {
  it('goes where its words go, whatever the order of the changes', () => {
    fc.assert(
      fc.property(edits, ({ changes, before, after }) => {
        expect(moved(before, changes)).toEqual(after);
      }),
    );
  });

  it('inside a replaced stretch goes to its start', () => {
    const change = { range: { start: { line: 1, character: 2 }, end: { line: 3, character: 4 } }, text: 'new\nlines' };
    expect(moved({ line: 2, character: 9 }, [change])).toEqual({ line: 1, character: 2 });
  });

  it('takes \\r\\n for one line end', () => {
    const change = { range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, text: 'a\r\nbc' };
    expect(moved({ line: 0, character: 3 }, [change])).toEqual({ line: 1, character: 5 });
  });
});
