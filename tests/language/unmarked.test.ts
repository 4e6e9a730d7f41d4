/** What is told to an editor that shows no Markdown. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { commented, fenced, spanned } from '../../server/language/markdown.ts';
import { unmarked } from '../../server/language/unmarked.ts';

describe('without its marks', () => {
  it.each([
    ['Cut **35-5/16in** to 38in of `white-16`.', 'Cut 35-5/16in to 38in of white-16.'],
    ['```closet\nshelf **top** { at 78in }\n```\n\nThe rest.', 'shelf **top** { at 78in }\n\nThe rest.'],
    ['````text\n```\n````', '```'],
    ['- `gap`: 1/8in', '- gap: 1/8in'],
    ['[the page](https://a.test/b) of it', 'the page of it'],
    ['2 * 3 * 4 and a_b_c', '2 * 3 * 4 and a_b_c'],
    ['**a `b` c**', 'a b c'],
    ['no `end', 'no `end'],
    ['', ''],
  ])('%j reads %j', (markdown, text) => {
    expect(unmarked(markdown)).toBe(text);
  });

  it('words of a file are as they were written, whatever they look like', () => {
    const word = fc.stringMatching(/^[a-z<>[\]()!*_\\@:/.#-]{1,12}$/).filter((text) => !text.includes('**'));
    fc.assert(
      fc.property(fc.array(word, { minLength: 1, maxLength: 6 }), (words) => {
        const text = words.join(' ');
        expect(unmarked(commented(text))).toBe(text);
      }),
    );
  });

  it('names and statements are as they stand, with any backticks in them', () => {
    const text = fc.stringMatching(/^[a-z`*[\]\\ ]{1,20}$/).filter((one) => /\S/.test(one));
    fc.assert(
      fc.property(text, (one) => {
        expect(unmarked(fenced(one, 'text'))).toBe(one);
        expect(unmarked(spanned(one)).trim()).toBe(one.replaceAll(/\s+/g, ' ').trim());
      }),
    );
  });
});
