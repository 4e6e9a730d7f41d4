import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isMarkOfNumber } from '../../grammar/structure.ts';
import { lex, validateTokens } from '../../grammar/tokens.ts';
import { anyHead, anyText } from './texts.ts';

/** `Word at`, `Number 84`, `Unit in`: each token with its image. */
function tokens(head: string): string[] {
  return lex(head).tokens.map((token) => `${token.tokenType.name} ${token.image}`);
}

function kinds(head: string): string {
  return lex(head)
    .tokens.map((token) => token.tokenType.name)
    .join(' ');
}

it('has no fault that the lexer generator knows', () => {
  expect(validateTokens).not.toThrow();
});

describe('a word', () => {
  it('may hold hyphens, digits and underscores', () => {
    expect(tokens('A-101-bedroom reach-in white_12 x')).toEqual([
      'Word A-101-bedroom',
      'Word reach-in',
      'Word white_12',
      'Word x',
    ]);
  });

  it('is of the letters of any language', () => {
    expect(tokens('étagère Küche-2 棚')).toEqual(['Word étagère', 'Word Küche-2', 'Word 棚']);
  });

  it('ends before a hyphen that nothing follows', () => {
    expect(tokens('shelf- low')).toEqual(['Word shelf', 'Negate -', 'Word low']);
    expect(tokens('a--b')).toEqual(['Word a', 'Negate -', 'Negate -', 'Word b']);
  });
});

describe('a number', () => {
  it.each([
    ['84', 'Number 84'],
    ['23.9', 'Number 23.9'],
    ['.5', 'Number .5'],
    ['3/4', 'Number 3/4'],
    ['21-3/4', 'Number 21-3/4'],
    ['3 1/2', 'Number 3 1/2'],
    ['3  1/2', 'Number 3  1/2'],
  ])('%s is one token', (text, token) => {
    expect(tokens(text)).toEqual([token]);
  });

  it('is not joined to a whole number by a hyphen or a space', () => {
    expect(tokens('21-3')).toEqual(['Number 21', 'Negate -', 'Number 3']);
    expect(tokens('21 3')).toEqual(['Number 21', 'Number 3']);
  });

  it('has one point', () => {
    expect(tokens('1.2.3')).toEqual(['Number 1.2', 'Number .3']);
  });

  it('leaves a stroke with spaces to be a division', () => {
    expect(kinds('94in / 2')).toBe('Number Unit Over Number');
    expect(kinds('a / 2')).toBe('Word Over Number');
  });
});

describe('a unit of measure', () => {
  it('touches its number, or stands behind a space if it is known', () => {
    expect(tokens('84in')).toEqual(['Number 84', 'Unit in']);
    expect(tokens('84 in')).toEqual(['Number 84', 'Unit in']);
    expect(tokens('15 lbf/ft2')).toEqual(['Number 15', 'Unit lbf/ft2']);
    expect(tokens('90°')).toEqual(['Number 90', 'Unit °']);
  });

  it('is any letters that touch a number, so that a misspelt one is seen', () => {
    expect(tokens('84inch')).toEqual(['Number 84', 'Unit inch']);
    expect(tokens('84 inch')).toEqual(['Number 84', 'Word inch']);
  });

  it('is the longest that fits', () => {
    expect(tokens('2.5 lb/ft2')).toEqual(['Number 2.5', 'Unit lb/ft2']);
    expect(tokens('2.5 lb/ft')).toEqual(['Number 2.5', 'Unit lb/ft']);
    expect(tokens('2.5 lb / 2')).toEqual(['Number 2.5', 'Unit lb', 'Over /', 'Number 2']);
  });

  it('is nothing but a word where no number is before it', () => {
    expect(tokens('in ft')).toEqual(['Word in', 'Word ft']);
    expect(tokens('share 2 after')).toEqual(['Word share', 'Number 2', 'Word after']);
  });

  it('may be a currency: three capital letters', () => {
    expect(tokens('14.50 EUR count')).toEqual(['Number 14.50', 'Unit EUR', 'Word count']);
    expect(tokens('14.50 Eur')).toEqual(['Number 14.50', 'Word Eur']);
  });
});

describe('inch and foot marks', () => {
  it('belong to the number they touch', () => {
    expect(tokens(`84"`)).toEqual(['Number 84', 'Unit "']);
    expect(tokens(`6'`)).toEqual(['Number 6', `Unit '`]);
    expect(tokens(`6'-3 1/2"`)).toEqual(['Number 6', `Unit '`, 'Joint -', 'Number 3 1/2', 'Unit "']);
    expect(tokens(`6'3"`)).toEqual(['Number 6', `Unit '`, 'Number 3', 'Unit "']);
  });

  it('are none behind a space, a name or a unit of measure: there a text begins', () => {
    expect(tokens('84 "high"')).toEqual(['Number 84', 'Text "high"']);
    expect(tokens('A-101"high"')).toEqual(['Word A-101', 'Text "high"']);
    expect(tokens('2 lb/ft2"high"')).toEqual(['Number 2', 'Unit lb/ft2', 'Text "high"']);
  });

  it('join feet and inches by a hyphen only where it touches both', () => {
    expect(kinds('6ft-3in')).toBe('Number Unit Joint Number Unit');
    expect(kinds('6ft - 3in')).toBe('Number Unit Minus Number Unit');
    expect(kinds('6ft -3in')).toBe('Number Unit Negate Number Unit');
    expect(kinds('6in-3in')).toBe('Number Unit Negate Number Unit');
  });
});

describe('a minus', () => {
  it('has a space on both sides; any other hyphen outside a name is a sign', () => {
    expect(tokens('a - b')).toEqual(['Word a', 'Minus -', 'Word b']);
    expect(tokens('a-b')).toEqual(['Word a-b']);
    expect(tokens('a -b')).toEqual(['Word a', 'Negate -', 'Word b']);
    expect(tokens('a - -3in')).toEqual(['Word a', 'Minus -', 'Negate -', 'Number 3', 'Unit in']);
  });

  it('may be the last thing typed so far', () => {
    expect(tokens('a -')).toEqual(['Word a', 'Minus -']);
  });
});

describe('a text', () => {
  it('stands between quotation marks', () => {
    expect(tokens('for "room to slide in"')).toEqual(['Word for', 'Text "room to slide in"']);
    expect(tokens('""')).toEqual(['Text ""']);
  });

  it('ends at the end of its line', () => {
    expect(tokens('"white\ndepth')).toEqual(['Text "white', 'Word depth']);
  });

  it('holds what would be comments and braces elsewhere', () => {
    expect(tokens('"a // b /* c { d"')).toEqual(['Text "a // b /* c { d"']);
  });
});

describe('comments and other characters', () => {
  it('sets comments aside', () => {
    const { tokens: rest, comments } = lex('at /* the floor */ 84in // finished');
    expect(rest.map((t) => t.image)).toEqual(['at', '84', 'in']);
    expect(comments.map((t) => t.image)).toEqual(['/* the floor */', '// finished']);
  });

  it('takes an open comment up to the end', () => {
    expect(lex('at /* the floor').comments.map((t) => t.image)).toEqual(['/* the floor']);
    expect(lex('at /*/').comments.map((t) => t.image)).toEqual(['/*/']);
  });

  it('names a character that means nothing, surrogate pairs as one', () => {
    expect(tokens('at @ 🚪')).toEqual(['Word at', 'Stray @', 'Stray 🚪']);
  });

  it('skips all kinds of space, and a byte order mark', () => {
    expect(tokens('\uFEFFat\u00a0\t84in')).toEqual(['Word at', 'Number 84', 'Unit in']);
  });
});

describe('laws of lexing', () => {
  it('every character is in one token, one comment, or is space', () => {
    fc.assert(
      fc.property(fc.oneof(anyHead, anyText), (head) => {
        const { tokens: all, comments } = lex(head);
        const pieces = [...all, ...comments].sort((a, b) => a.startOffset - b.startOffset);
        let at = 0;
        for (const piece of pieces) {
          expect(head.slice(at, piece.startOffset).trim()).toBe('');
          expect(head.startsWith(piece.image, piece.startOffset)).toBe(true);
          at = piece.startOffset + piece.image.length;
        }
        expect(head.slice(at).trim()).toBe('');
      }),
    );
  });

  it('the structure of a file finds texts where the tokens do', () => {
    fc.assert(
      fc.property(anyHead, (head) => {
        const texts = lex(head)
          .tokens.filter((token) => token.tokenType.name === 'Text')
          .map((token) => token.startOffset);
        expect(textStarts(head)).toEqual(texts);
      }),
      { numRuns: 1000 },
    );
  });
});

describe('letters that are none', () => {
  it('are each a token: the last one that there is, and a half of a pair at the end of a piece of a longer text', () => {
    const image = (head: string): string | undefined => lex(head).tokens.at(-1)?.image;
    expect(image('a \uffff')).toBe('\uffff');
    // Over and over, until it is compiled: what was compiled read on in the longer text.
    for (let i = 0; i < 3_000; i++) {
      const longer = `x = \u{1f6aa} ${i}`;
      expect(image(longer.slice(0, 5))).toBe('\ud83d');
    }
  });
});

/** Where texts begin as the structure of a file sees it: at quotation marks outside comments that mark no inches. */
function textStarts(head: string): number[] {
  const starts: number[] = [];
  for (let i = 0; i < head.length; i++) {
    if (head.startsWith('//', i)) break;
    if (head.startsWith('/*', i)) {
      const end = head.indexOf('*/', i + 2);
      if (end < 0) break;
      i = end + 1;
    } else if (head[i] === '"' && !isMarkOfNumber(head, i)) {
      starts.push(i);
      const end = head.indexOf('"', i + 1);
      if (end < 0) break;
      i = end;
    }
  }
  return starts;
}
