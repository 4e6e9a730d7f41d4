/** Lights, wiring, sprinkler heads and hatches as rules. */
import type { Rule } from '../../model/rule.ts';
import { hatchSize } from './hatch.ts';
import { belowHead } from './heads.ts';
import { bannedSource, identifiedSource, lampRows, listedSource } from './luminaire.ts';
import { overDoorSource, storageSource } from './storage-space.ts';
import { panelSource, workingSpace } from './working-space.ts';

const electrician =
  'Hot lights set clothes and boxes on fire, and wiring kills: check the local electrical code, follow the instructions of the maker of the light, and leave the wiring to a licensed electrician.';
const wiring =
  'Wiring is work for a licensed electrician: check the local electrical code, and have a panel moved by nobody else.';

export const lightNearStorage: Rule = {
  id: 'light-near-storage',
  family: 'light',
  title: 'A light is too near the storage space of a closet',
  explanation:
    'The storage space runs along the sides and the back of the closet: 24 in deep from the floor up to 6 ft or the highest rod, whichever is higher, and from there to the ceiling 12 in deep or as deep as the shelf, whichever is more; and 12 in to either side of each rod, below it. ' +
    'Shelves, rods and drawers themselves are counted as well. The least distance from there to the light depends on the kind of light: say what it is with `lamp`. ' +
    'The light is taken as flat on its wall or ceiling, as large as its `size`: one that hangs down is nearer than is said here. ' +
    'Lights over a door that a local amendment lets be nearer are not told apart. In a closet without a rod, which is no clothes closet, it is a note.',
  severity: 'warning',
  source: lampRows.surfaceEnclosed.source,
  editions: [
    lampRows.surfaceFluorescent.source,
    lampRows.recessedEnclosed.source,
    lampRows.recessedFluorescent.source,
    identifiedSource,
    storageSource,
    overDoorSource,
  ],
  comparison:
    'least distance from the light to the storage space >= clear-of-surface-light, clear-of-surface-fluorescent, clear-of-recessed-light or clear-of-recessed-fluorescent',
  limits: [
    'clear-of-surface-light',
    'clear-of-surface-fluorescent',
    'clear-of-recessed-light',
    'clear-of-recessed-fluorescent',
  ],
  caution: electrician,
  needs: ['kind of lamp', 'height of the walls'],
};

export const lightOfOtherKind: Rule = {
  id: 'light-without-distance',
  family: 'light',
  title: 'A light is of a kind for which no distance is published',
  explanation:
    'Distances to the storage space of closets are published for lights on the surface or recessed: incandescent and LED lights that are completely enclosed, and fluorescent ones. For pendants, and for lamps that are open, there is none, so nothing could be compared.',
  severity: 'note',
  source: listedSource,
  comparison: 'kind of the light is one of those that have a distance',
  caution: electrician,
  needs: ['kind of lamp'],
};

export const lightBanned: Rule = {
  id: 'light-kind-barred',
  family: 'light',
  title: 'A light is of a kind that may not be in a clothes closet',
  explanation:
    'Pendants, and incandescent lamps that are open or enclosed only in part, are said to be barred from clothes closets. That is from memory and has not been looked up, so it is asked only where a policy names this rule: `treat light-kind-barred as note`.',
  severity: 'note',
  source: bannedSource,
  comparison: 'the light is no pendant, and no incandescent lamp that is not completely enclosed',
  caution: electrician,
  needs: ['kind of lamp', 'this rule named by a policy'],
};

export const storageNearSprinkler: Rule = {
  id: 'storage-near-sprinkler',
  family: 'light',
  title: 'Something is too high below a sprinkler head',
  explanation:
    'What stands straight below a head is to end some way below its deflector, or it keeps the water from spreading. The fitting itself is compared: what is put on a shelf comes on top of it. The deflector is taken to be at the lower edge of the fixture; one that hangs down from the ceiling is lower. Shelves along walls are often treated otherwise.',
  severity: 'warning',
  source: belowHead.source,
  comparison: 'height of the deflector - height of the top of what is below it >= clear-below-sprinkler',
  limits: ['clear-below-sprinkler'],
  caution:
    'A sprinkler that cannot spread its water does not reach the fire: check the local fire code, and leave the heads to a licensed contractor.',
  needs: ['how far the deflector hangs below the ceiling'],
};

export const panelInCloset: Rule = {
  id: 'panel-in-clothes-closet',
  family: 'light',
  title: 'An electrical panel is in a clothes closet',
  explanation:
    'Devices that protect against too much current are to be away from what burns easily, such as clothes in closets, however large the closet is. In a closet without a rod, which is no clothes closet, it is a note.',
  severity: 'warning',
  source: panelSource,
  comparison: 'electrical panels in the closet = 0',
  caution: wiring,
};

export const panelWorkingSpace: Rule = {
  id: 'panel-working-space',
  family: 'light',
  title: 'There is too little room to work before an electrical panel',
  explanation:
    'Before a panel there has to be room to work: out from it, and as wide as given or as the panel, whichever is more. The width need not be centred on it. What stands there at the height of the panel itself is compared.',
  severity: 'warning',
  source: workingSpace.source,
  comparison:
    'room out from the panel >= before-electrical-panel, and width that is free before it >= beside-electrical-panel or the width of the panel',
  limits: ['before-electrical-panel', 'beside-electrical-panel'],
  caution: wiring,
};

export const panelWorkingHeight: Rule = {
  id: 'panel-working-height',
  family: 'light',
  title: 'Something stands above or below an electrical panel in the room to work',
  explanation:
    'The room to work before a panel is said to go from the floor up to 6-1/2 ft. That height is from memory and has not been looked up, so it is asked only where a policy names this rule: `treat panel-working-height as note`.',
  severity: 'note',
  source: workingSpace.highSource,
  comparison: 'room out from the panel, from the floor to 78 in >= before-electrical-panel',
  limits: ['before-electrical-panel'],
  caution: wiring,
  needs: ['this rule named by a policy'],
};

export const hatchTooSmall: Rule = {
  id: 'hatch-too-small',
  family: 'light',
  title: 'The opening of an attic hatch is too small',
  explanation:
    'A person has to climb through. In a ceiling the long side may lie either way; in a wall the opening stands upright. The room above it in the attic is not known here.',
  severity: 'warning',
  source: hatchSize.source,
  comparison: 'sides of the hatch >= hatch-short-side and hatch-long-side',
  limits: ['hatch-short-side', 'hatch-long-side'],
  caution:
    'An attic hatch is a way for people and for those who put out fires: check the local building code before it is made smaller or covered.',
  needs: ['headroom above the hatch'],
};

export const hatchCovered: Rule = {
  id: 'hatch-covered',
  family: 'light',
  title: 'What stands below an attic hatch leaves too little of it free',
  explanation:
    'Seen from above, the largest free rectangle of the hatch beside what stands below it is compared, at whatever height that stands: a ladder has to stand below, and a person has to pass.',
  severity: 'warning',
  source: hatchSize.source,
  comparison: 'sides of the free part of the hatch >= hatch-short-side and hatch-long-side',
  limits: ['hatch-short-side', 'hatch-long-side'],
  caution:
    'An attic hatch has to open, with room for a ladder and for the person on it: check the local building code.',
};

export const lightRules: readonly Rule[] = [
  lightNearStorage,
  lightOfOtherKind,
  lightBanned,
  storageNearSprinkler,
  panelInCloset,
  panelWorkingSpace,
  panelWorkingHeight,
  hatchTooSmall,
  hatchCovered,
];
