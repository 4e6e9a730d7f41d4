/** Sizes of files in messages. */
import { expect, it } from 'vitest';
import { megabytes, moreThanIsRead } from '../../server/model/sizes.ts';

const MB = 1024 * 1024;

it.each([
  [0, '0 MB'],
  [1, '0.1 MB'],
  [16 * MB, '16 MB'],
  [16 * MB + 1, '16.1 MB'],
  [70.25 * MB, '70.3 MB'],
  [5000 * MB, '5,000 MB'],
])('of %i bytes is told as %s, rounded up', (bytes, said) => expect(megabytes(bytes)).toBe(said));

it('is told beside the most that is read, and never looks like it', () => {
  expect(moreThanIsRead('a.csv', 64 * MB + 1, 64 * MB)).toBe(
    'a.csv has 64.1 MB; 64 MB are the most that is read of such a file.',
  );
});
