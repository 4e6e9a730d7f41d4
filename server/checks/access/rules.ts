/** Accessibility as rules. All but sizes and free-standing towers are silent until a policy says `reach forward` or `reach side`. */
import type { Rule } from '../../model/rule.ts';
import { showInches, showLength } from '../../model/show.ts';
import { childSource } from './children.ts';
import { doorHardware, doorway, passageSource, shallowDoor, slideSource, swingSource, typeBDoor } from './doors.ts';
import { alcoves, clearFloor, kneeAndToe, walkIn } from './floor.ts';
import { stateHousing } from './local-sizes.ts';
import { protruding } from './protrude.ts';
import { forward2010, side1991, side2010, ufasRod } from './reach.ts';
import { halfOfShelves, oneOfEachSource, operation, portionSource, storageSource } from './storage.ts';
import { clothingStorage, tallThings } from './tip-over.ts';

const caution =
  'Whether a closet has to be accessible, and what then has to be within reach, is for the local accessibility code and whoever applies it: check it. What is compared here stands for a part of the text named as the source, and for no approval.';

export const noneWithinReach: Rule = {
  id: 'none-within-reach',
  family: 'access',
  title: 'Of one kind of storage nothing is within reach',
  explanation:
    'Of the rods, of the shelves and of the drawers at least one each has to be within a reach that a policy asks for; the others may be higher, lower or further in. ' +
    'Of a rod or shelf, a part of its length is enough. The height is that of the centre of a rod, the upper face of a shelf, and the middle of the front of a drawer. ' +
    'A closet in which a wheelchair has no room is reached into from its front line, straight in through the opening: the depth of the reach is from there to the front of what is reached, and past a depth of 10 in from the side, or at all from the front, the published limits for reaching over an obstruction hold. ' +
    'A policy sets the height with nothing in the way; past an obstruction the published heights are never exceeded.',
  severity: 'warning',
  source: storageSource,
  editions: [
    oneOfEachSource,
    portionSource,
    forward2010.source,
    forward2010.over.source,
    side2010.source,
    side2010.over.source,
    kneeAndToe.source,
    alcoves.forward.source,
    alcoves.side.source,
    ufasRod.source,
    side1991.over.source,
  ],
  comparison: 'kinds of storage of which some is there and none is within reach = 0',
  caution,
  needs: ['reach in a policy', 'opening of the closet', 'clear floor before the opening'],
};

export const halfOfShelvesWithinReach: Rule = {
  id: 'half-of-shelves-within-reach',
  family: 'access',
  title: 'Less than half of the shelf space is within reach',
  explanation:
    'For storage in kitchens half of the shelf space has to be within reach. It is asked of a pantry only where a policy names this rule: `treat half-of-shelves-within-reach as warning`. ' +
    'Shelf space is taken by length; a shelf counts with the length of it that can be reached.',
  severity: 'note',
  source: halfOfShelves.source,
  comparison: 'length of shelves within reach x 2 >= length of all shelves',
  caution,
  needs: ['reach in a policy', 'this rule named by a policy'],
};

export const reachOfOldEdition: Rule = {
  id: 'reach-of-old-edition',
  family: 'access',
  title: 'A side reach is as an edition that was replaced has it',
  explanation:
    'Guidelines of 1991 let a side reach with nothing in the way go up to 54 in (that number is from memory); the standards of 2010 that replaced them end at 48 in. ' +
    'The policy is followed as it is written. Write 48 in unless the older edition is meant.',
  severity: 'note',
  source: side2010.source,
  editions: [side1991.source, side1991.over.source],
  comparison: 'side reach of the policy <= 48 in',
  caution,
};

export const childCannotReach: Rule = {
  id: 'child-cannot-reach',
  family: 'access',
  title: 'A child of the age given reaches none of one kind of storage',
  explanation:
    'Published guidance has how high and how low children of three to twelve years reach. A policy that says `child` with an age has the rods, the shelves and the drawers compared with it. It is advice, and never more than a note: at least one of each kind is looked for.',
  severity: 'note',
  source: childSource,
  comparison: 'least for the age <= height <= most for the age, for one of each kind',
  caution: `What a child can reach, a child can also climb: fasten what can tip, and follow its maker. ${caution}`,
  needs: ['age of a child, in a policy'],
};

export const floorBeforeOpening: Rule = {
  id: 'floor-before-opening',
  family: 'access',
  title: 'The clear floor before an opening is too small for a wheelchair',
  explanation:
    'A closet that is reached into needs clear floor before its opening, 30 in by 48 in, with the long side the way the person faces. For a forward reach it lies straight before the opening, for a side reach along it. Say what is clear with `clear-floor`.',
  severity: 'warning',
  source: clearFloor.source,
  comparison:
    'width >= 30 in and depth >= 48 in for a forward reach; width >= 48 in and depth >= 30 in for a side reach',
  caution,
  needs: ['clear floor before the opening'],
};

export const doorwayTooNarrow: Rule = {
  id: 'doorway-too-narrow',
  family: 'access',
  title: 'A doorway is too narrow to enter the closet',
  explanation:
    'Where a wheelchair has room inside a closet, its doorway has to be wide enough to pass. Of an opening with sliding leaves half is counted. What a leaf or its stop takes off the opening is not known here and comes off as well. ' +
    'Closets that nobody enters are free of this; and an opening in a wall thicker than 24 in has to be 36 in wide; the thickness of the wall is not known here.',
  severity: 'warning',
  source: doorway.source,
  editions: [passageSource],
  comparison: 'clear width of the opening >= doorway-width',
  limits: ['doorway-width'],
  caution,
  needs: ['opening of the closet', 'thickness of the leaf'],
};

export const floorBeforeDoor: Rule = {
  id: 'floor-before-door',
  family: 'access',
  title: 'The clear floor before a door is too small to open it from a wheelchair',
  explanation:
    'To open the door of a closet that is entered, a person needs free floor out from it, and beyond its latch or its hinges: how much depends on the leaf, and on from where one comes, which `approach` says. Of two rows of the table that will both do, the one that lacks less is told. The floor is taken to lie as well as it can. Door closers ask for more, and are not looked at.',
  severity: 'warning',
  source: swingSource,
  editions: [slideSource, passageSource],
  comparison: 'clear floor out from the door, and beyond its latch >= those of the table',
  caution,
  needs: ['clear floor before the opening'],
};

export const narrowShallowOpening: Rule = {
  id: 'narrow-shallow-opening',
  family: 'access',
  title: 'The opening of a shallow closet is narrow',
  explanation:
    'An older federal standard lets the opening of a closet that nobody enters be narrower than a doorway, down to 20 in. Of an opening with sliding leaves half is counted.',
  severity: 'note',
  source: shallowDoor.source,
  comparison: 'clear width of the opening >= 20 in',
  caution,
};

export const typeBCloset: Rule = {
  id: 'deep-closet-narrow-door',
  family: 'access',
  title: 'A deep closet has a narrow door and no shelf within the side reach',
  explanation:
    "Advice for dwellings, from an architect's note: a closet deeper than 24 in has a door 32 in wide, or else shelves within the side reach.",
  severity: 'note',
  source: typeBDoor.source,
  comparison: 'depth <= 24 in, or clear width of the opening >= 32 in, or a shelf within the side reach',
  caution,
};

export const turningSpaceTooSmall: Rule = {
  id: 'turning-space-too-small',
  family: 'access',
  title: 'A closet that is entered leaves no circle to turn in',
  explanation:
    'In a closet deeper than 48 in a wheelchair has to turn, in a circle 60 in across. The free floor between what stands along the walls is compared; room for knees and toes under it is not counted, and the T-shaped space that will do as well is not looked for.',
  severity: 'note',
  source: walkIn.source,
  editions: [walkIn.shallowSource],
  comparison: 'free floor both ways >= turning-space, where the closet is deeper than 48 in',
  limits: ['turning-space'],
  caution,
};

export const protrudingFitting: Rule = {
  id: 'protruding-fitting',
  family: 'access',
  title: 'A fitting reaches out of the closet where people walk',
  explanation:
    'A cane finds what is low. What reaches out beyond the front of the closet higher than 27 in and up to 80 in above the floor is met with the head or the chest.',
  severity: 'warning',
  source: protruding.source,
  comparison: 'reach beyond the front of the closet, where the lower edge is above 27 in and up to 80 in <= protrusion',
  limits: ['protrusion'],
  caution,
};

export const closetTooShallow: Rule = {
  id: 'closet-too-shallow',
  family: 'access',
  title: 'The closet is shallower than a policy asks for',
  explanation: `Some places have a least depth for closets of dwellings: closets in housing aided by one state are ${showLength(stateHousing.deep, showInches)} deep. Nothing is asked for unless a policy sets \`limit closet-depth\`.`,
  severity: 'warning',
  source: stateHousing.source,
  comparison: 'depth of the closet >= closet-depth',
  limits: ['closet-depth'],
  caution: 'Sizes that dwellings must have are set by the local code: check it.',
};

export const tooLittleRod: Rule = {
  id: 'too-little-rod',
  family: 'access',
  title: 'The rods are too short for the people who use the closet',
  explanation: `Some places have a least length of closet for each person: housing aided by one state has ${showLength(stateHousing.perPerson, showInches)}, along the rod. Nothing is asked for unless a policy sets \`limit rod-per-person\` and the template says \`persons\`. All rods of the closet are added up.`,
  severity: 'warning',
  source: stateHousing.source,
  comparison: 'length of all rods >= persons x rod-per-person',
  limits: ['rod-per-person'],
  caution: 'Sizes that dwellings must have are set by the local code: check it.',
  needs: ['number of people'],
};

export const pullHardToWork: Rule = {
  id: 'pull-hard-to-work',
  family: 'access',
  title: 'A pull asks for a grip that not every hand has',
  explanation:
    'What is worked by hand has to open with one hand, without a tight grasp, a pinch or a twist of the wrist, and with no more than 22.2 N (5 lbf). A knob is taken to ask for a tight grasp; a bar, a loop and the edge of a front are not. The text names no kinds of pull: that reading is common practice, no source.',
  severity: 'warning',
  source: operation.source,
  editions: [storageSource],
  comparison: 'grips that a pull asks for, of those that are barred = 0',
  caution,
  needs: ['reach in a policy', 'kind of the pull', 'force that opens it'],
};

export const doorHardwareHeight: Rule = {
  id: 'door-hardware-height',
  family: 'access',
  title: 'The pull of a door is too high or too low',
  explanation:
    'On a door that a person passes through, the pull is from 34 to 48 in above the floor. On the leaf of a closet that is reached into, it is from 15 in up to the reach that a policy asks for.',
  severity: 'warning',
  source: doorHardware.source,
  editions: [storageSource, forward2010.source, side2010.source],
  comparison: 'lowest <= height of the middle of the pull <= highest',
  caution,
  needs: ['reach in a policy', 'height of the pull'],
};

const tips =
  'Towers that tip over kill children: fasten them to studs with what their maker names for it, and follow its instructions. What stands in a rented flat may not be fastened without the owner: ask.';

export const freeStandingDrawers: Rule = {
  id: 'free-standing-drawers',
  family: 'access',
  title: 'A free-standing tower with drawers can tip',
  explanation:
    'Free-standing furniture for clothes with drawers or hinged doors, 27 in high or more, 30 lb or more, and 3.2 cubic feet enclosed or more, has to be built to a standard against tipping over in the United States. What is fastened for good is outside it. Height and the volume of the drawers are compared; what the tower weighs is not known here. No calculation here stands for the tests of that standard.',
  severity: 'warning',
  source: clothingStorage.source,
  comparison: 'height < 27 in, or volume enclosed by drawers < 3.2 ft3, of a tower that says `free-standing`',
  caution: tips,
  needs: ['weight of the tower with its drawers'],
};

export const tallFreeStanding: Rule = {
  id: 'tall-free-standing',
  family: 'access',
  title: 'A tall tower stands free',
  explanation:
    'One published standard for buildings has everything over 6 ft high secured to the structure, and the trade fastens every tower to the wall.',
  severity: 'warning',
  source: tallThings.source,
  comparison: 'height of a tower that says `free-standing` <= 72 in',
  caution: tips,
};

export const accessRules: readonly Rule[] = [
  noneWithinReach,
  halfOfShelvesWithinReach,
  reachOfOldEdition,
  childCannotReach,
  floorBeforeOpening,
  doorwayTooNarrow,
  floorBeforeDoor,
  narrowShallowOpening,
  typeBCloset,
  turningSpaceTooSmall,
  protrudingFitting,
  pullHardToWork,
  doorHardwareHeight,
  closetTooShallow,
  tooLittleRod,
  freeStandingDrawers,
  tallFreeStanding,
];
