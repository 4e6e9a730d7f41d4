/** The rules about what hangs on a rod, as data. */
import type { Rule, RuleSource } from '../model/rule.ts';
import { clothesClosetText } from './defaults.ts';

export const garmentMeetsFloor: Rule = {
  id: 'garment-meets-floor',
  family: 'hanging',
  title: 'A garment reaches the floor',
  explanation:
    'What hangs on the rod is longer than the rod is high. The length counts from the centre of the rod to the lowest point of the garment on its hanger. ' +
    'Raise the rod, or say that something shorter hangs there.',
  severity: 'warning',
  source: { kind: 'common-practice' },
  comparison: 'height of the rod - hanging length >= clear-below-garment',
  limits: ['clear-below-garment'],
};

export const garmentMeetsBelow: Rule = {
  id: 'garment-meets-below',
  family: 'hanging',
  title: 'A garment reaches what is below it',
  explanation:
    'What hangs on the rod reaches a shelf, rod or panel below it. Only what stands under the garment counts: along the rod, and within half the width of the hanger, or of the garment where that is more, on each side of it. ' +
    'A shelf counts by its upper face, a rod by its top.',
  severity: 'warning',
  source: { kind: 'common-practice' },
  comparison: 'height of the rod - hanging length - highest point of what is below >= clear-below-garment',
  limits: ['clear-below-garment'],
};

export const rodNearWall: Rule = {
  id: 'rod-near-wall',
  family: 'hanging',
  title: 'A rod is too near the wall behind it for its hangers',
  explanation:
    'Half of the hanger stands behind the rod. Where the rod is nearer to the wall than that, hangers stand askew and rub the wall. ' +
    'Cloth gives way, so it is the hanger that counts here, and not the garment on it.',
  severity: 'warning',
  source: { kind: 'common-practice' },
  comparison: 'distance from the centre of the rod to the wall - half of the hanger >= clear-behind-hanger',
  limits: ['clear-behind-hanger'],
};

export const rodNearFront: Rule = {
  id: 'rod-near-front',
  family: 'hanging',
  title: 'What hangs on a rod reaches past the front of the closet',
  explanation:
    'Half of what hangs on the rod stands in front of it, and the closet is not deep enough for it. ' +
    'The width of the hanger counts, or of the garment where that is more, because a door would catch it. The depth of the closet is the length of the shorter wall beside it; in a room of another shape, the distance to the wall across from it.',
  severity: 'warning',
  source: { kind: 'common-practice' },
  comparison:
    'depth of the closet - distance from the wall to the centre of the rod - half of the hanger or garment >= clear-before-hanger',
  needs: [
    'hanger width of what hangs there',
    'depth of the closet',
    'how far leaves that slide or fold stand into the closet',
  ],
  limits: ['clear-before-hanger'],
};

export const rodNearShelf: Rule = {
  id: 'rod-near-shelf',
  family: 'hanging',
  title: 'A rod is too near what is above it to lift a hanger off',
  explanation:
    'The hook of a hanger has to be lifted over the rod, and something is in its way. The distance counts from the centre of the rod to the underside of what is straight above it, or to the ceiling.',
  severity: 'warning',
  source: { kind: 'common-practice' },
  comparison: 'underside of what is above the rod - height of the rod >= clear-above-rod',
  limits: ['clear-above-rod'],
};

export const rodUnderAdvice: Rule = {
  id: 'rod-under-advice',
  family: 'hanging',
  title: 'A rod is nearer to what is above it than published advice has it',
  explanation:
    'Hangers come off, but less easily than with the distance that published advice gives between a rod and the shelf above it.',
  severity: 'note',
  source: clothesClosetText,
  comparison: 'underside of what is above the rod - height of the rod >= advised-above-rod',
  limits: ['advised-above-rod'],
};

export const rodWithoutGarment: Rule = {
  id: 'rod-without-garment',
  family: 'hanging',
  title: 'A rod does not say what hangs on it',
  explanation:
    'Without a garment nothing can be compared: neither with the floor, nor with what is below, behind and in front of the rod. Name one: `for shirt`.',
  severity: 'note',
  quiet: 'anything',
  source: { kind: 'language' },
};

export const garmentIncomplete: Rule = {
  id: 'garment-incomplete',
  family: 'hanging',
  title: 'A garment does not say what a check needs',
  explanation:
    'Without its hanging length a garment cannot be compared with the floor and with what is below it; without the width of its hanger, not with the wall and the front of the closet. Give both: `hang 38in; hanger 17in`.',
  severity: 'note',
  quiet: 'anything',
  source: { kind: 'language' },
};

/** T-02: women's 2, men's 2-1/2, coats and gowns 4 to 5 in. */
const planningDimensions: RuleSource = {
  kind: 'published',
  document: 'Clothes Planning Dimensions, as copied at jfjm100.com',
  section: 'length of rod a garment takes',
  edition: 'edition not stated in the copy',
  seen: true,
};

/** T-03: men's suits 3, heavy coats 4, women's 2 in. */
const hangerText: RuleSource = {
  kind: 'published',
  document: 'Time-Saver Standards, as copied at northernarchitecture.us/space-requirements/info-dxx.html',
  section: 'clothes closets, length of pole a hanger takes',
  edition: 'edition not stated in the copy',
  seen: true,
};

export const rodTooShort: Rule = {
  id: 'rod-too-short',
  family: 'hanging',
  title: 'A rod is too short for what is to hang on it',
  explanation:
    'Each garment takes a length of the rod (`takes 2in`), and those that the rod is to hold (`holds 20 shirt`) take more than there is between what holds its ends. ' +
    'Each of two rods one above the other counts for itself. What the starter garments take is from published planning dimensions where they say so.',
  severity: 'warning',
  source: planningDimensions,
  editions: [hangerText],
  comparison: 'clear length of the rod >= sum of count x length that one takes',
  needs: ['length of rod that each garment takes'],
};

export const hangingMeetsHanging: Rule = {
  id: 'hanging-meets-hanging',
  family: 'hanging',
  title: 'What hangs on two rods meets in a corner',
  explanation:
    'Two rods of different walls run into one corner at heights at which what hangs on them meets: each needs half the width of its hangers, or of its garments where that is more, on either side. ' +
    'One of the two rods has to end before the other, or the last of its length stays empty.',
  severity: 'warning',
  source: { kind: 'common-practice' },
  comparison: 'room between what hangs on the two, along one of the rods >= 0',
  needs: ['what hangs on both rods', 'hanging length and hanger width'],
};
