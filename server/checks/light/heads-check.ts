/** How many sprinkler heads a closet has, by what its building is and by its size. */

import type { Place } from '../../../grammar/tree.ts';
import { addedFix } from '../../model/edits.ts';
import { examplesIn } from '../../model/examples.ts';
import { type Comparison, type Finding, type Fix, finding } from '../../model/finding.ts';
import type { Layout } from '../../model/layout.ts';
import { greatest, least, NONE, TICKS_PER_FOOT, type Ticks } from '../../model/ticks.ts';
import { closetOf, type Unknown } from '../access/closet.ts';
import type { CheckInput } from '../check.ts';
import { compared, fromTemplate } from '../say.ts';
import { area, volume } from './exact.ts';
import { type ClosetFloor, mayLackHead, oneHeadWillDo, smallCloset, type WithoutHead, withoutHead } from './heads.ts';
import { closetWithoutHead, houseClosetWithoutHead, largeClosetOneHead } from './rules.ts';

export function headCount(input: CheckInput): Finding[] {
  const [head, ...more] = input.layout.fixtures.filter(({ kind }) => kind === 'sprinkler');
  if (!head) return noHead(input);
  return more.length === 0 ? oneHead(input) : [];
}

/** Asked only where a policy says that the building has sprinklers. */
function noHead(input: CheckInput): Finding[] {
  const { layout, policy, record } = input;
  const building = policy.demands.building;
  const place = layout.walls[0]?.place;
  if (!building?.value.sprinklered || !place) return [];
  const { kind } = building.value;
  const rule = kind === 'house' ? houseClosetWithoutHead : closetWithoutHead;
  const about = { rule, about: '', place };
  if (kind === 'house' && !policy.severities.has(rule.id)) {
    record?.lacks({ ...about, needs: 'a policy that names the rule: it is from memory' });
    return [];
  }
  const limit = withoutHead[kind];
  // Where every closet has a head its size does not matter.
  const floor = limit.feet === 0 ? { width: NONE, depth: NONE } : floorOf(layout);
  if ('needs' in floor) {
    record?.lacks({ ...about, needs: floor.needs });
    return [];
  }
  const may = mayLackHead(kind, floor);
  if (may) record?.lacks({ ...about, needs: 'whether its walls and its ceiling do not burn' });
  const comparison = compareFloor(floor, limit);
  record?.looked({ ...about, comparison, holds: may });
  if (may) return [];
  const only =
    limit.feet === 0
      ? 'every closet has one there'
      : `one may be left out up to ${limit.feet} square feet${limit.shortSide === undefined ? '' : ' and 3 ft on its shorter side'}`;
  return [
    finding(
      rule,
      place,
      `No sprinkler head is drawn in this closet, and policy "${building.policy}" says that the building, ${named[kind]}, has sprinklers; as it is published, ${only}.`,
      {
        about: '',
        causes: fromTemplate,
        advice: `Draw the head if there is one: \`${examplesIn('fixture sprinkler on ceiling { from left 40in; from back 20in; depth 2in }', input.show.system)}\`; else ask a licensed sprinkler contractor.`,
        fixes: drawn(place),
        related: [{ place: building.place, message: 'This says what the building is.' }],
        comparison,
      },
    ),
  ];
}

/** Where the head is is seen on site. */
function drawn({ statement: { parent } }: Place): Fix[] {
  if (parent.kind !== 'statement') return [];
  const text = 'fixture sprinkler on ceiling { from left; from back; depth }';
  const title = 'Draw the head, if there is one: where it is, to be filled in';
  return addedFix(parent, text, { byHand: true, gap: true }).map((fix) => ({ ...fix, title }));
}

const named = { house: 'a house', flats: 'one of flats', hotel: 'a hotel', hospital: 'a hospital' } as const;

/** The number that decides: the head itself, the floor, or the shorter side. */
function compareFloor(floor: ClosetFloor, { feet, shortSide }: WithoutHead): Comparison {
  if (feet === 0)
    return { what: 'sprinkler heads in the closet', measured: { count: 0 }, relation: 'at least', limit: { count: 1 } };
  const square = inFeet(area(floor.width, floor.depth), 2);
  if (shortSide !== undefined && square <= feet)
    return compared('shorter side of the closet', least(floor.width, floor.depth), 'at most', shortSide);
  return {
    what: 'floor of the closet',
    measured: { amount: square, unit: 'ft2' },
    relation: 'at most',
    limit: { amount: feet, unit: 'ft2' },
  };
}

function oneHead({ layout, record }: CheckInput): Finding[] {
  const place = layout.walls[0]?.place;
  if (!place) return [];
  const about = { rule: largeClosetOneHead, about: '', place };
  const floor = floorOf(layout);
  const height = greatest(NONE, ...layout.walls.map((wall) => wall.height ?? NONE));
  if ('needs' in floor || height === 0) {
    record?.lacks({ ...about, needs: 'needs' in floor ? floor.needs : 'the height of a wall' });
    return [];
  }
  const holds = oneHeadWillDo(floor, height);
  const cubic = inFeet(volume(floor.width, floor.depth, height), 3);
  const comparison: Comparison = {
    what: 'volume of the closet',
    measured: { amount: cubic, unit: 'ft3' },
    relation: 'at most',
    limit: { amount: smallCloset.feet, unit: 'ft3' },
  };
  record?.looked({ ...about, comparison, holds });
  if (holds) return [];
  return [
    finding(
      largeClosetOneHead,
      place,
      `The closet has one sprinkler head and ${cubic} cubic feet; as it is published, one at the highest ceiling is enough up to ${smallCloset.feet}.`,
      {
        about: '',
        causes: fromTemplate,
        advice: 'Ask a licensed sprinkler contractor how many heads it takes; the local fire code decides.',
        comparison,
      },
    ),
  ];
}

function floorOf(layout: Layout): { readonly width: Ticks; readonly depth: Ticks } | Unknown {
  const closet = closetOf(layout);
  return 'needs' in closet ? closet : { width: closet.width, depth: closet.depth };
}

/** Square or cubic feet, rounded up to a thousandth, so that what is more than a whole limit is shown as more. */
function inFeet(amount: bigint, power: 2 | 3): number {
  const unit = BigInt(TICKS_PER_FOOT) ** BigInt(power);
  return Number((amount * 1000n + unit - 1n) / unit) / 1000;
}
