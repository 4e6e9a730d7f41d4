/** Lights, wiring, sprinkler heads, appliances and hatches as rules. */
import type { Rule } from '../../model/rule.ts';
import { fuelSource, gasSource, serviceSpace } from './appliances.ts';
import { hatchSize } from './hatch.ts';
import { belowHead, smallCloset, withoutHead } from './heads.ts';
import { bannedSource, identifiedSource, lampRows, listedSource } from './luminaire.ts';
import { storageSource } from './storage-space.ts';
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
    'The light is as large as its `size` and reaches out, or hangs down, as far as its `depth`; without one it is taken as flat, and one that hangs down is nearer than is said here. ' +
    'Lights over a door that a local amendment lets be nearer are not told apart. In a closet without a rod, which is no clothes closet, it is a note.',
  severity: 'warning',
  source: lampRows.surfaceEnclosed.source,
  editions: [
    lampRows.surfaceFluorescent.source,
    lampRows.recessedEnclosed.source,
    lampRows.recessedFluorescent.source,
    identifiedSource,
    storageSource,
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
  needs: ['kind of lamp', 'how far the light stands out', 'height of the walls'],
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
    'What stands straight below a head is to end some way below its deflector, or it keeps the water from spreading. The fitting itself is compared: what is put on a shelf comes on top of it. The deflector hangs down as far as the `depth` of the head says; without one it is taken to be at the ceiling, and at the lower edge of a head on a wall. Shelves along walls are often treated otherwise.',
  severity: 'warning',
  source: belowHead.source,
  comparison: 'height of the deflector - height of the top of what is below it >= clear-below-sprinkler',
  limits: ['clear-below-sprinkler'],
  caution:
    'A sprinkler that cannot spread its water does not reach the fire: check the local fire code, and leave the heads to a licensed contractor.',
  needs: ['how far the deflector hangs below the ceiling'],
};

const contractor = 'Sprinklers are work for a licensed contractor: check the local fire code.';

export const closetWithoutHead: Rule = {
  id: 'closet-without-head',
  family: 'light',
  title: 'No sprinkler head is drawn in a closet of a building with sprinklers',
  explanation:
    'Asked where a policy says what the building is, and that it has sprinklers: `building flats sprinklered`. In flats every closet has a head, as it is published; in hotels a closet of a guest room up to 24 square feet may be without, and in hospitals one of a patient room up to 6, where walls and ceiling do not burn. The floor is width by depth of the closet. An older edition also asked that a closet of a hotel be no more than 3 ft on its shorter side.',
  severity: 'note',
  source: withoutHead.flats.source,
  editions: [withoutHead.hotel.source, withoutHead.hospital.source],
  comparison: 'sprinkler heads >= 1, or the floor of the closet <= what the building lets be without',
  caution: contractor,
  needs: ['building in a policy', 'width and depth of the closet', 'whether walls and ceiling burn'],
};

export const houseClosetWithoutHead: Rule = {
  id: 'house-closet-without-head',
  family: 'light',
  title: 'No sprinkler head is drawn in a closet of a house with sprinklers',
  explanation:
    'In houses of one or two families a closet up to 24 square feet and 3 ft on its shorter side is said to need no head where its walls and ceiling do not burn. That is from memory and has not been looked up, so it is asked only where a policy names this rule: `treat house-closet-without-head as note`.',
  severity: 'note',
  source: withoutHead.house.source,
  comparison: 'floor of the closet <= 24 ft2, and its shorter side <= 36 in',
  caution: contractor,
  needs: ['building in a policy', 'this rule named by a policy', 'width and depth of the closet'],
};

export const largeClosetOneHead: Rule = {
  id: 'large-closet-one-head',
  family: 'light',
  title: 'A large closet has one sprinkler head',
  explanation:
    'One head at the highest ceiling is enough for a closet up to 400 cubic feet, as it is published. The volume is width by depth by the height of the highest wall.',
  severity: 'note',
  source: smallCloset.source,
  comparison: 'volume of the closet <= 400 ft3, where it has one head',
  caution: contractor,
  needs: ['width, depth and height of the closet'],
};

const fuel =
  'What burns can set stored things on fire, and its smoke kills: check the local code, follow the maker of the appliance, and leave it to a licensed trade.';

export const applianceAmongStorage: Rule = {
  id: 'appliance-among-storage',
  family: 'light',
  title: 'An appliance that burns something stands where things are stored',
  explanation:
    'A water heater that burns gas or oil may not stand in a closet in which things are stored, nor may such a closet be made round one later. Any other gas appliance may if it is direct-vent, or shut off from the closet with air from outdoors and a door that closes by itself and has a gasket. Say what it is with `burns` and `heats`.',
  severity: 'warning',
  source: gasSource,
  editions: [fuelSource],
  comparison: 'appliances of a barred kind where a shelf, rod or drawer is = 0',
  caution: fuel,
  needs: ['what the appliance burns', 'what it heats'],
};

export const applianceServiceSpace: Rule = {
  id: 'appliance-service-space',
  family: 'light',
  title: 'There is too little room before an appliance',
  explanation:
    'Whoever services an appliance needs room before it: out from its face, and as wide as given or as the appliance, whichever is more. What stands there from the floor up to the top of the appliance is compared. The side that is serviced is taken to be the one that faces the room, and the way to it is not looked at.',
  severity: 'warning',
  source: serviceSpace.source,
  comparison:
    'room out from the appliance >= before-appliance, and width that is free before it >= beside-appliance or the width of the appliance',
  limits: ['before-appliance', 'beside-appliance'],
  caution: fuel,
  needs: ['how far the appliance stands out', 'side that is serviced'],
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
  closetWithoutHead,
  houseClosetWithoutHead,
  largeClosetOneHead,
  applianceAmongStorage,
  applianceServiceSpace,
  panelInCloset,
  panelWorkingSpace,
  panelWorkingHeight,
  hatchTooSmall,
  hatchCovered,
];
