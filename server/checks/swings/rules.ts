/** The rules about what moves and what stands aslant, as data. */
import type { Rule } from '../../model/rule.ts';
import { inches } from '../../model/ticks.ts';

/** Leaves and folded leaves, where nothing says otherwise. Common practice, no source: interior leaves are 1-3/8 in thick. */
export const leafThickness = inches(1.375);

const geometry = { kind: 'language' } as const;
const practice = { kind: 'common-practice' } as const;
const fingers =
  'What is pulled out or swung against something else pinches fingers and tears loose: what has to open for a way out, or for somebody in a wheelchair, is for the local code.';
const headroom =
  'A low ceiling is run into with the head: where people stand under it, the local code says how high it has to be.';
const onSite =
  'Saws and knives cut more than boards: fit ends on site as the instructions of the tool and the local rules of work have it.';
const wayOut = 'A door that people pass through has to open: check the local code where it is a way out.';

export const drawerMeetsWall: Rule = {
  id: 'drawer-meets-wall',
  family: 'swings',
  title: 'A drawer comes out against a wall',
  explanation:
    'Pulled out, the drawer meets a wall, a jamb of an opening or what is above an opening. Its whole width counts, straight out from its front, at the angle at which the walls stand. ' +
    'Where an opening is before it, it may come out through the opening.',
  severity: 'warning',
  source: geometry,
  comparison: 'free way before the drawer >= how far it comes out',
  needs: ['length of the walls', 'what is across from the drawer: a wall, or an opening in it'],
  caution: fingers,
};

export const drawerMeetsFitting: Rule = {
  id: 'drawer-meets-fitting',
  family: 'swings',
  title: 'A drawer comes out against a fitting',
  explanation:
    'Pulled out, the drawer meets a shelf, rod, panel or other closed drawers at its height. Its whole width counts, straight out from its front, at the angle at which the walls stand.',
  severity: 'warning',
  source: geometry,
  comparison: 'free way before the drawer >= how far it comes out',
  caution: fingers,
};

export const drawerMeetsFixture: Rule = {
  id: 'drawer-meets-fixture',
  family: 'swings',
  title: 'A drawer comes out into what is to be kept free before a fixture',
  explanation:
    'Pulled out, the drawer comes nearer to an outlet, switch, panel, vent, sprinkler, light or hatch than the clear distance that the fixture gives. ' +
    'Fixtures that give none are not compared: the wall they are in is.',
  severity: 'warning',
  source: geometry,
  comparison: 'free way before the drawer up to the clear distance of the fixture >= how far it comes out',
  caution:
    'Electricity, fire and air are at stake: check the local code, and leave wiring to a licensed electrician and sprinklers to a licensed contractor.',
};

export const drawerMeetsLeaf: Rule = {
  id: 'drawer-meets-leaf',
  family: 'swings',
  title: 'A drawer comes out against the leaf of a door',
  explanation:
    'The drawer meets a leaf although the door is open. Of two sliding leaves only half of the opening is free at once, either half. ' +
    'Folded leaves stand at the jambs, two leaves thick; it is not said at which, so both jambs count. A leaf that swings in stands straight out from its hinges, one leaf thick. ' +
    'Leaves are taken to be 1-3/8in thick (common practice, no source). A leaf that swings out takes nothing off the opening.',
  severity: 'warning',
  source: practice,
  comparison: 'free way before the drawer, with the leaf open >= how far it comes out',
  needs: ['side of the hinges of a leaf that swings in'],
  caution: fingers,
};

export const drawerInSwing: Rule = {
  id: 'drawer-in-swing',
  family: 'swings',
  title: 'A drawer that is out stands in the swing of a door',
  explanation:
    'With the door closed the drawer can be pulled out, and then the door does not open: its leaf swings in over the same floor. With the door wide open the drawer comes out past it.',
  severity: 'note',
  source: geometry,
  comparison: 'distance from the hinges to the drawer that is out >= width of the leaf',
  needs: ['side of the hinges of a leaf that swings in'],
  caution: wayOut,
};

export const drawersMeet: Rule = {
  id: 'drawers-meet',
  family: 'swings',
  title: 'Two drawers cannot be out at once',
  explanation:
    'Drawers at one height on two walls come out over the same floor, in a corner or across from each other. Each can be pulled out while the other is closed.',
  severity: 'note',
  source: geometry,
  comparison: 'free way before the drawer, with the other one out >= how far it comes out',
  caution: fingers,
};

export const littleRoomBeforeDrawers: Rule = {
  id: 'little-room-before-drawers',
  family: 'swings',
  title: 'A drawer that is out leaves less room before it than a policy asks for',
  explanation:
    'A person stands before a drawer that is out. How much room that takes is for a policy to say; nothing is compared where none does.',
  severity: 'note',
  source: geometry,
  comparison: 'free way before the drawer - how far it comes out >= clear-before-drawers',
  limits: ['clear-before-drawers'],
  caution: fingers,
};

export const leafMeetsFitting: Rule = {
  id: 'leaf-meets-fitting',
  family: 'swings',
  title: 'A door that swings in meets a fitting',
  explanation:
    'The leaf sweeps a quarter circle about its hinges, as wide as its opening and as high. A shelf, rod, panel or closed drawer stands in it, so the door does not open all the way. ' +
    'Sides are as seen from inside the closet.',
  severity: 'warning',
  source: geometry,
  comparison: 'distance from the hinges to the nearest point of the fitting >= width of the leaf',
  needs: ['side of the hinges of a leaf that swings in'],
  caution: wayOut,
};

export const leafMeetsHanging: Rule = {
  id: 'leaf-meets-hanging',
  family: 'swings',
  title: 'A door that swings in brushes what hangs on a rod',
  explanation:
    'The leaf sweeps a quarter circle about its hinges, and what hangs on a rod reaches into it: half the width of the hanger, or of the garment where that is more, in front of the rod.',
  severity: 'warning',
  source: geometry,
  comparison: 'distance from the hinges to the nearest point of what hangs >= width of the leaf',
  needs: ['side of the hinges of a leaf that swings in', 'what hangs on the rod', 'hanging length and hanger width'],
  caution: fingers,
};

export const leafMeetsFixture: Rule = {
  id: 'leaf-meets-fixture',
  family: 'swings',
  title: 'A door that swings in sweeps what is to be kept free before a fixture',
  explanation:
    'The leaf comes nearer to an outlet, switch, panel, vent, sprinkler, light or hatch than the clear distance that the fixture gives.',
  severity: 'warning',
  source: geometry,
  comparison: 'distance from the hinges to what is to be kept free >= width of the leaf',
  needs: ['side of the hinges of a leaf that swings in'],
  caution:
    'Electricity, fire and air are at stake: check the local code, and leave wiring to a licensed electrician and sprinklers to a licensed contractor.',
};

export const leafMeetsWall: Rule = {
  id: 'leaf-meets-wall',
  family: 'swings',
  title: 'A door that swings in meets a wall',
  explanation:
    'The leaf sweeps a quarter circle about its hinges, and the closet is not deep enough for it, or a wall stands aslant in it.',
  severity: 'warning',
  source: geometry,
  comparison: 'distance from the hinges to the wall >= width of the leaf',
  needs: ['side of the hinges of a leaf that swings in'],
  caution: wayOut,
};

export const swingWithoutHinge: Rule = {
  id: 'swing-without-hinge',
  family: 'swings',
  title: 'A door that swings in does not say where its hinges are',
  explanation:
    'What the leaf meets depends on the side of its hinges, so nothing was compared with it. Say so, as seen from inside the closet: `swing in hinged left`.',
  severity: 'note',
  source: geometry,
  caution: fingers,
};

export const cornerOutOfSquare: Rule = {
  id: 'corner-out-of-square',
  family: 'swings',
  title: 'A board cut square does not fit a corner that is out of square',
  explanation:
    'The board, or rod, ends in a corner that is sharper than square, so the other wall leans in over its end: the front corner of the board meets it first. ' +
    'Scribe the end to the wall, taking this much off its front edge, or cut the board shorter by as much and let the back edge stand off. ' +
    'What the material takes off at its ends counts as room. The distance is the depth of the board times the tangent of the deviation.',
  severity: 'warning',
  source: geometry,
  comparison: 'room taken off at the end >= depth x tan(90 degrees - angle of the corner)',
  caution: onSite,
};

export const cornerLeavesGap: Rule = {
  id: 'corner-leaves-gap',
  family: 'swings',
  title: 'A board cut square leaves a gap in a corner that is out of square',
  explanation:
    'The board ends in a corner that is wider than square, so the other wall runs away from its end: the back edge meets it, and the front edge stands off. ' +
    'Leave the gap, or cut the end at the angle, longer at its front edge by this much.',
  severity: 'note',
  source: geometry,
  comparison: 'depth x tan(angle of the corner - 90 degrees) <= the finest length the project shows',
  caution: onSite,
};

export const fittingMeetsSlope: Rule = {
  id: 'fitting-meets-slope',
  family: 'swings',
  title: 'A fitting reaches through a sloped ceiling',
  explanation:
    'The ceiling slopes down to a wall, and at the edge of the fitting that is nearest to that wall it is lower than the fitting. ' +
    'The ceiling is as high as its `height` at the wall and rises evenly over its `run`.',
  severity: 'error',
  source: geometry,
  comparison: 'height of the ceiling over the edge nearest to its wall >= highest point of the fitting',
  caution: headroom,
};

export const hangingMeetsSlope: Rule = {
  id: 'hanging-meets-slope',
  family: 'swings',
  title: 'What hangs on a rod meets a sloped ceiling',
  explanation:
    'The end of a hanger, half its width from the rod, is taken to be as high as the centre of the rod, and the ceiling is lower there.',
  severity: 'warning',
  source: practice,
  comparison: 'height of the ceiling over the end of the hanger >= height of the centre of the rod',
  needs: ['hanger width of what hangs on the rod'],
  caution: headroom,
};

/** T-04: shelves 8 to 9 in apart. */
export const usefulAboveShelf = inches(8);

export const lowOverShelf: Rule = {
  id: 'low-over-shelf',
  family: 'swings',
  title: 'Little stands on a shelf under a sloped ceiling',
  explanation:
    'Nothing is above the shelf but the slope, and at its edge nearest to the wall there is less room over the shelf than the least distance that reference tables give from one shelf to the next. Low things stand there, and tall ones further out.',
  severity: 'note',
  source: {
    kind: 'published',
    document: 'reference tables, as copied at thearchitecturalstudent.com and dimensionsguide.com',
    section: 'distance between shelves, 8 to 9 in',
    edition: 'copied in 2013; edition not stated in the copies',
    seen: true,
  },
  comparison: 'height of the ceiling over the edge of the shelf - upper face of the shelf >= 8in',
  caution: headroom,
};
