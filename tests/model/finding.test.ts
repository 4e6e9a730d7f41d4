/** What is found twice is said once, in the same words whatever was found first. */
import { expect, it } from 'vitest';
import { headPlace } from '../../grammar/tree.ts';
import { type Finding, type FindingDetails, finding, unique } from '../../server/model/finding.ts';
import * as rules from '../../server/model/rules.ts';
import { statementsOf } from '../grammar/places.ts';

const [a, b] = statementsOf('unit a t\nunit b t\n');
if (!a || !b) throw new Error('no statements');
const found = (details: FindingDetails): Finding => finding(rules.leftOver, headPlace(a), '3in is left over.', details);
const fix = (text: string) => ({ title: text, edits: [{ place: headPlace(b), text }] });

it.each([
  ['the one with something to offer', { fixes: [fix('x')] }, {}],
  ['the graver one', { severity: 'error' }, { severity: 'note' }],
  ['the one whose offer is first in the text', { fixes: [fix('x')] }, { fixes: [fix('y')] }],
  [
    'the one related to what is first in the text',
    { related: [{ place: headPlace(a), message: 'here' }] },
    { related: [{ place: headPlace(b), message: 'here' }] },
  ],
  ['the one with the first advice', { advice: 'a' }, { advice: 'b' }],
] as const)('%s stays', (_, first, second) => {
  const [one, other] = [found(first), found(second)];
  expect(unique([one, other])).toEqual([one]);
  expect(unique([other, one])).toEqual([one]);
});
