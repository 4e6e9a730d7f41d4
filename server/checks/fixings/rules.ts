/** The rules about fixings, as data. What pulls out falls on somebody, so each carries its caution. */
import type { Rule, RuleSource } from '../../model/rule.ts';

const practice: RuleSource = { kind: 'common-practice' };
const stated: RuleSource = { kind: 'language' };

const caution =
  "What pulls out of a wall falls on somebody. The hardware maker's instructions and the local code come first; what carries weight over a head, or in a wall of another kind, is for licensed practice.";

const tipping =
  "A tower that is not tied to the wall can tip onto somebody, a child who climbs it first of all. The hardware maker's instructions and the local code come first.";

const wires =
  'Behind a wall run wires and pipes, most of all near outlets, switches, panels and vents. Find them before a hole is made; a licensed electrician or plumber decides what has to move.';

export const studMissed: Rule = {
  id: 'stud-missed',
  family: 'fixing',
  title: 'A part is fixed to fewer studs than its hardware asks for',
  explanation:
    'The hardware says how many of its pieces on one part must meet a stud (`in-stud`). Each is moved as far as the hardware lets it (`shift`), and still too few of them meet one. ' +
    'Let it be moved farther, take hardware that spans from stud to stud, or put blocking into the wall.',
  severity: 'error',
  quiet: 'anything',
  source: practice,
  comparison: 'pieces that meet a stud, moved as far as they may be >= in-stud of the hardware',
  caution,
  needs: ['where the studs of the wall are'],
};

export const anchorNotNamed: Rule = {
  id: 'anchor-not-named',
  family: 'fixing',
  title: 'A fixing meets no stud, and no anchor is named for it',
  explanation:
    'Studs stand 16 in apart as a rule, and where a fixing misses them a screw holds in nothing but the lining of the wall. Common practice is an anchor rated for at least 50 lb. Name one in the hardware: `anchor wall-anchor`.',
  severity: 'warning',
  quiet: 'anything',
  source: practice,
  comparison: 'pieces that meet no stud and have no anchor <= 0',
  caution,
  needs: ['where the studs of the wall are'],
};

export const anchorRatedLow: Rule = {
  id: 'anchor-rated-low',
  family: 'fixing',
  title: 'An anchor is rated for less than common practice asks',
  explanation:
    'Where a fixing misses a stud, common practice is an anchor that its maker rates for at least 50 lb. This one is rated for less. What presses on it is compared with its rating by another rule, where it is known.',
  severity: 'warning',
  source: practice,
  comparison: 'rating of an anchor that is set >= 50 lb',
  caution,
  needs: ['rating of the anchor', 'where the studs of the wall are'],
};

export const studsNotStated: Rule = {
  id: 'studs-not-stated',
  family: 'fixing',
  title: 'Something is screwed to a wall whose studs are not stated',
  explanation:
    'Without studs nobody can say which fixings need an anchor. State them in the template (`studs every 16in from 14-1/2in`), or as they are found on site, in the survey.',
  severity: 'note',
  quiet: 'anything',
  source: stated,
  needs: ['where the studs of the wall are'],
  caution,
};

export const studsUneven: Rule = {
  id: 'studs-uneven',
  family: 'fixing',
  title: 'A measured stud stands off the spacing of the others',
  explanation:
    'Studs are set at one spacing, 16 in as a rule. Two of the list stand farther from each other, or nearer, than the others do, by more than an inch: it may be so, as beside an opening, or it may be a slip of the tape. Doubled studs, less than 3 in apart, do not count.',
  severity: 'note',
  source: practice,
  comparison: 'distance of two measured studs = the distance that most of them have, within 1 in',
  caution,
};

export const spacingExceeded: Rule = {
  id: 'fixings-far-apart',
  family: 'fixing',
  title: 'Fixings stand farther apart than their hardware allows',
  explanation:
    'Hardware says how far apart two of it may stand on a part (`spacing`). As many as that takes are set, up to a thousand; a spacing that asks for more is a slip.',
  severity: 'warning',
  source: stated,
  comparison: 'distance of two that stand next to each other <= spacing of the hardware',
  caution,
};

export const hookOffRod: Rule = {
  id: 'hook-off-rod',
  family: 'fixing',
  title: 'Hooks hold a rod at another distance from the wall than is drawn',
  explanation:
    'A hook hangs from a bracket, its set-back behind the front of the bracket, so hook and bracket together say how far from the wall the rod is. The layout says otherwise, and what hangs there was checked for that. Common practice: 3 in back from the front of a 12 in bracket, 9 in from the wall.',
  severity: 'error',
  quiet: 'anything',
  source: practice,
  comparison: 'distance of the rod from the wall = reach of the bracket - set-back of the hook',
  caution,
  needs: ['reach of the bracket', 'set-back of the hook'],
};

export const hookWithoutBracket: Rule = {
  id: 'hook-without-bracket',
  family: 'fixing',
  title: 'A rod is hung by hooks, and no bracket is over it',
  explanation:
    'Hooks hang from the brackets of the shelf above the rod. No shelf above it has brackets along it. Say that the shelf is carried by brackets, or hold the rod by cups at its ends.',
  severity: 'warning',
  quiet: 'anything',
  source: stated,
  comparison: 'brackets over the rod >= 1',
  caution,
};

export const bracketPastShelf: Rule = {
  id: 'bracket-past-shelf',
  family: 'fixing',
  title: 'A bracket reaches past the front of its shelf',
  explanation:
    'The bracket reaches farther out from the wall than the shelf on it, at the height of a head or a hand. Take a shorter bracket or a deeper board.',
  severity: 'warning',
  source: practice,
  comparison: 'reach of the bracket <= front of the shelf, from the wall',
  caution,
  needs: ['reach of the bracket'],
};

export const shelfPastBracket: Rule = {
  id: 'shelf-past-bracket',
  family: 'fixing',
  title: 'A shelf reaches past its brackets',
  explanation:
    'The front of the shelf stands out past what holds it, and a load there bends the board and pulls on the upper screws more than the same load over the bracket. Take a longer bracket.',
  severity: 'note',
  source: practice,
  comparison: 'front of the shelf, from the wall <= reach of the bracket',
  caution,
  needs: ['reach of the bracket'],
};

export const towerNotTied: Rule = {
  id: 'tower-not-tied',
  family: 'fixing',
  title: 'A standing panel is not tied to the wall',
  explanation:
    'Other parts say what carries them, and nothing ties this panel to the wall. A tower is held at top, middle and bottom on both sides: six brackets. Name hardware that `is tie` among what carries the panels.',
  severity: 'warning',
  quiet: 'anything',
  source: practice,
  comparison: 'ties of a panel higher than 27 in >= 1',
  caution: tipping,
  needs: ['hardware that carries the panel'],
};

export const partNotCarried: Rule = {
  id: 'part-not-carried',
  family: 'fixing',
  title: 'Nothing says what carries a shelf or a rod',
  explanation:
    'Other parts of the layout say what carries them, and this one does not, or names hardware that does nothing for a part of its kind. It is in no schedule and no takeoff until it does: `carried by rear-support`.',
  severity: 'note',
  quiet: 'anything',
  source: stated,
  comparison: 'pieces of hardware that hold the part >= 1',
  needs: ['hardware that carries the part'],
  caution,
};

export const hardwareWithoutRole: Rule = {
  id: 'hardware-without-role',
  family: 'fixing',
  title: 'Hardware carries a part and does not say what it does',
  explanation:
    'Without its role nothing can be said of how many there are and where they stand. Say what it is: `is support`, `is bracket`, `is hook`.',
  severity: 'note',
  quiet: 'anything',
  source: stated,
  needs: ['what the hardware does'],
  caution,
};

export const pinWithoutPanel: Rule = {
  id: 'pin-without-panel',
  family: 'fixing',
  title: 'A shelf lies on pins at an end where no panel stands',
  explanation:
    'Pins sit in holes of the panels at both ends of a shelf. At this end there is a wall, or nothing. Carry the shelf by supports, or set a panel there.',
  severity: 'warning',
  source: practice,
  comparison: 'ends of the shelf that meet a panel = 2',
  caution,
};

export const fixingAtFixture: Rule = {
  id: 'fixing-at-fixture',
  family: 'fixing',
  title: 'A fixing falls on a fixture of the wall',
  explanation:
    'As it is spread, a piece of hardware would be screwed to the wall where a fixture is, or in the room that is kept free around it. Move the part, or let the hardware stand elsewhere.',
  severity: 'warning',
  source: practice,
  comparison: 'places of fixings within a fixture and its clear room = 0',
  caution: wires,
};

export const screwSizeUnread: Rule = {
  id: 'screw-size-not-read',
  family: 'fixing',
  title: 'The size of a screw cannot be read',
  explanation:
    'The takeoff counts it by its text as it stands. What it holds cannot be computed, for which its diameter and its length are needed: write for example `#8 x 1-1/2 in` or `5 x 60 mm`, and more words behind that where they help.',
  severity: 'note',
  source: stated,
  needs: ['diameter and length of the screw'],
  caution,
};
