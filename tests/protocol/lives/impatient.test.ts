import { expect, it } from 'vitest';
import { createImpatient } from '../../../server/protocol/impatient.ts';

it('who has taken a question back is not there, also before it has left', () => {
  const impatient = createImpatient();
  const heard: string[] = [];
  const token = { isCancellationRequested: false };
  const leave = impatient.wait('a', token, (uri) => heard.push(`of ${uri}`));
  impatient.wait(undefined, { isCancellationRequested: false }, (uri) => heard.push(`any, of ${uri}`));
  expect([impatient.isAsked('a'), impatient.isAsked('b'), impatient.isHeard('b')]).toEqual([true, false, true]);
  impatient.tell('b');
  impatient.tell('a');
  expect(heard).toEqual(['any, of b', 'of a', 'any, of a']);
  token.isCancellationRequested = true;
  expect(impatient.isAsked('a')).toBe(false);
  token.isCancellationRequested = false;
  leave();
  expect(impatient.isAsked('a')).toBe(false);
});
