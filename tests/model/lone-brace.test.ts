/** A brace that closes nothing: what is left where it is taken out is in the one style. */
import { describe, expect, it } from 'vitest';
import { saidOfFile } from './said.ts';

const board = 'board oak { depth 12in; thickness 3/4in }';
const mended = (text: string): (string | undefined)[] =>
  saidOfFile(text).flatMap(({ found, mended }) => (found.rule.id === 'brace-without-block' ? [mended] : []));

describe('a brace that closes nothing', () => {
  it.each([
    ['goes with its line', `${board}\n}\nunit a b\n`, `${board}\nunit a b\n`],
    ['and so the last one', `${board}\n}`, board],
    ['with spaces around it', `${board}\r\n  } \r\n`, `${board}\r\n`],
    ['leaves what else stands on its line', `${board} } // as sold\n`, `${board} // as sold\n`],
    ['leaves one of the blank lines around it', `${board}\n\n}\n\nunit a b\n`, `${board}\n\nunit a b\n`],
  ])('%s', (_, text, wanted) => expect(mended(text)).toEqual([wanted]));
});
