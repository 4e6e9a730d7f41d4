/** The rules of what shelves and rods carry, as data. */
import type { Rule, RuleSource } from '../../model/rule.ts';
import { leverAssumption, withdrawalSource } from './fastener.ts';

const woodwork = (section: string): RuleSource => ({
  kind: 'published',
  document: 'Architectural Woodwork Standards',
  section,
  edition: 'edition 1, 2009',
  seen: true,
});

/** How elastic beams bend; what is allowed comes from the policy. */
const beams: RuleSource = {
  kind: 'published',
  document: 'USDA Wood Handbook',
  section: 'structural analysis equations, equation 9-2',
  edition: 'GTR-190, 2010',
  seen: true,
};

const caution =
  'Stiffness and strength are nominal grade values, not guaranteed, and a computed sag says nothing of what holds the shelf or rod: follow the instructions of the makers, check the local code, and ask a licensed engineer where a fall could hurt someone.';

const holdCaution =
  'What a fixing holds depends on how it is set and on what is behind the lining: follow the instructions of its maker, check the local code, and ask a licensed engineer where a fall could hurt someone.';

const method =
  'It is computed as an elastic beam over what holds it: its brackets, hooks, cups, pins and ties where hardware says where they stand, and, where those are fewer than two, its ends that meet a wall or a panel. Supports along the back edge are left out, because the front edge has to carry its share without them. ' +
  'Its own weight counts where the material states it, and the creep of the policy multiplies all of it.';

const shelfNeeds = [
  'what the shelf carries, or a policy that says so',
  'board, its thickness and its stiffness',
  'two places that hold it',
] as const;
const rodNeeds = [
  'what hangs on the rod, by its load, by what it holds with the weights of garments, or by a policy',
  'rod material, its diameter and its stiffness',
  'two places that hold it',
] as const;

export const shelfSags: Rule = {
  id: 'shelf-sags',
  family: 'structure',
  title: 'A shelf sags further than a policy allows',
  explanation: `The greatest deflection between two supports, or past the last one, is compared with the part of the span that the policy allows; past the last support twice the length counts as the span. ${method}`,
  severity: 'warning',
  quiet: 'anything',
  source: beams,
  comparison: 'creep x greatest deflection <= span / deflection of the policy, and <= its greatest sag',
  caution,
  needs: shelfNeeds,
};

export const freeStandingTips: Rule = {
  id: 'free-standing-tips',
  family: 'structure',
  title: 'A free-standing tower tips over when its drawers are out',
  explanation:
    'The moments about the front edge on which it stands are compared: those of the tower, its shelves and the closed part of its drawers keep it standing, those of drawers that are out tip it. All drawers are taken to be out at once, on a level floor, without carpet, climbing or a push, and what lies on its shelves is left out. ' +
    'That it stands in this comparison says nothing of a child that climbs it: the trade fastens every tower to the wall.',
  severity: 'warning',
  source: { kind: 'language' },
  comparison: 'moment that keeps it standing >= moment that tips it, about its front edge',
  caution:
    'A tower can tip over and kill a child. The trade requires a wall fixing for every tower; fasten it as the instructions of the hardware maker have it, and check the local code.',
  needs: ['weight of the boards', 'weight of a drawer with what is in it'],
};

export const moreBrackets: Rule = {
  id: 'more-brackets-for-load',
  family: 'structure',
  title: 'A shelf takes more brackets than its hardware asks for',
  explanation:
    'With as many brackets as the hardware asks for, the shelf would sag further than the policy allows, or an anchor would carry more than its rating. The fixing schedule takes the least number that does, and the takeoff counts them. Where a few more would not do either, the schedule stays as it was, and what does not hold is told.',
  severity: 'note',
  quiet: 'anything',
  source: beams,
  comparison: 'brackets that the hardware asks for >= brackets that what it carries asks for',
  caution,
  needs: shelfNeeds,
};

export const shelfSagsPastAdvice: Rule = {
  id: 'shelf-sags-past-advice',
  family: 'structure',
  title: 'A shelf sags further than published advice has it',
  explanation: `Where no policy says how far a shelf may sag, its deflection is compared with a 144th of its span, at once and without creep. Set a limit of your own: \`deflection shelf 240\`. ${method}`,
  severity: 'note',
  source: woodwork('10-1.2.21, shelf deflection'),
  comparison: 'greatest deflection <= span / 144',
  caution,
  needs: shelfNeeds,
};

export const rodSags: Rule = {
  id: 'rod-sags',
  family: 'structure',
  title: 'A rod sags further than a policy allows',
  explanation: `The greatest deflection between two supports, or past the last one, is compared with the part of the span that the policy allows; past the last support twice the length counts as the span. ${method}`,
  severity: 'warning',
  source: beams,
  comparison: 'creep x greatest deflection <= span / deflection of the policy, and <= its greatest sag',
  caution,
  needs: rodNeeds,
};

export const shelfOverstressed: Rule = {
  id: 'shelf-overstressed',
  family: 'structure',
  title: 'A shelf is bent past the strength that its board states',
  explanation: `The bending stress where the moment is greatest is compared with the strength of the board, and of the board of its front edge. ${method}`,
  severity: 'warning',
  source: beams,
  comparison: 'greatest bending moment / section modulus <= strength',
  caution,
  needs: [...shelfNeeds, 'strength of the board'],
};

export const rodOverstressed: Rule = {
  id: 'rod-overstressed',
  family: 'structure',
  title: 'A rod is bent past the strength that its material states',
  explanation: `The bending stress where the moment is greatest is compared with the strength of the material. ${method}`,
  severity: 'warning',
  source: beams,
  comparison: 'greatest bending moment / section modulus <= strength',
  caution,
  needs: [...rodNeeds, 'strength of the rod material'],
};

export const sagNotKnown: Rule = {
  id: 'sag-not-known',
  family: 'structure',
  title: 'A policy asks how far something sags, and a fact is missing',
  explanation:
    'Nothing is made up for a fact that is not stated: until it is, the sag of this shelf or rod has not been compared with anything. State it in the material, at the shelf or rod, or in the policy.',
  severity: 'note',
  quiet: 'anything',
  source: { kind: 'language' },
  caution,
};

const holdNeeds = [...shelfNeeds.slice(0, 1), ...rodNeeds.slice(0, 1), 'hardware that says where it stands'] as const;

const holdMethod =
  'Every bracket, hook, cup or pin carries the reaction of its shelf or rod as a beam over them, and a bracket the rods that hang from it as well; what supports along the back edge take off it is left out.';

export const hardwarePastRating: Rule = {
  id: 'hardware-past-rating',
  family: 'fixing',
  title: 'Hardware carries more than its maker rates it for',
  explanation: `${holdMethod} The rating is stated in the hardware file: \`rated 50 lb\`.`,
  severity: 'warning',
  source: { kind: 'language' },
  comparison: 'load on one piece of hardware <= its rating',
  caution: holdCaution,
  needs: [...holdNeeds, 'rating of the hardware'],
};

export const anchorPastRating: Rule = {
  id: 'anchor-past-rating',
  family: 'fixing',
  title: 'An anchor carries more than its maker rates it for',
  explanation: `Where hardware meets no stud its anchors are compared with what their maker rates them for, divided by the anchor-factor of the policy; what an anchor holds is never computed. ${holdMethod} The upper anchors of a bracket are pulled by the load times its distance from the wall over the leg of the bracket: ${leverAssumption}. Half of its screws count as upper ones.`,
  severity: 'warning',
  source: { kind: 'language' },
  comparison: 'pull and push down on one anchor together <= rating / anchor-factor',
  caution: holdCaution,
  needs: [...holdNeeds, 'leg of the bracket', 'screws into the wall', 'rating of the anchor', 'studs of the wall'],
};

export const screwsPulled: Rule = {
  id: 'screws-pulled',
  family: 'fixing',
  title: 'The upper screws of a bracket are pulled harder than wood is allowed to hold them',
  explanation: `In a stud a wood screw is allowed 2850 G2 D pounds for each inch of its thread in the wood, G the specific gravity of the framing and D its diameter in inches. What it goes through, the lining of the wall, does not hold. ${holdMethod} The load times its distance from the wall over the leg of the bracket pulls the upper screws: ${leverAssumption}. Half of its screws count as upper ones; dry wood, side grain.`,
  severity: 'warning',
  source: withdrawalSource('wood-screw'),
  comparison: 'pull on one upper screw <= 2850 G2 D x thread in the stud',
  caution: holdCaution,
  needs: [...holdNeeds, 'leg of the bracket', 'screws into the wall', 'framing and studs of the wall'],
};

export const rodSpanLong: Rule = {
  id: 'rod-span-long',
  family: 'structure',
  title: 'A rod spans further than published advice has it',
  explanation:
    'Clothes poles are to be held every 48 in at the least. The distance counts between what holds the rod: hooks and cups where hardware says where they stand, else its ends that meet a wall or a panel. Add a hook or a bracket between, or treat this as off where the rod is known to be stiff enough.',
  severity: 'note',
  source: woodwork('10-4.4.16, clothes poles'),
  comparison: 'distance between two supports of the rod <= 48in',
  caution,
};

export const rodThin: Rule = {
  id: 'rod-thin',
  family: 'structure',
  title: 'A rod is thinner than published advice has it',
  explanation:
    'Clothes poles of wood are to be at least 1-1/4 in thick, of metal 1-1/16 in. A tube, or a material stiffer than 50 GPa, counts as metal; one softer than 30 GPa as wood.',
  severity: 'note',
  source: woodwork('10-4.4.16, clothes poles'),
  comparison: 'diameter of the rod >= 1-1/4in for wood, 1-1/16in for metal',
  needs: ['stiffness or wall thickness of the rod material, which tells wood from metal'],
  caution: caution,
};

const onRequest = 'Looked at only where a policy treats it as something: ';

export const wideWardrobe: Rule = {
  id: 'wide-wardrobe',
  family: 'structure',
  title: 'A wide opening with sliding doors needs an upright at its head',
  explanation: `Wardrobes 60 in wide or wider want a horizontal member at the head of their sliding doors, held by an upright between. ${onRequest}\`treat wide-wardrobe as note\`.`,
  severity: 'note',
  source: woodwork('10-4.4.17.1, wardrobes'),
  comparison: 'width of an opening with sliding doors < 60in',
  caution: caution,
};

export const tallPanelStrip: Rule = {
  id: 'tall-panel-strip',
  family: 'structure',
  title: 'A tall cabinet needs one more anchor strip',
  explanation: `Cabinets higher than 60 in want a strip to anchor them by between the upper and the lower one. ${onRequest}\`treat tall-panel-strip as note\`.`,
  severity: 'note',
  source: woodwork('10-4.4.18, anchor strips'),
  comparison: 'height of a panel <= 60in',
  caution: caution,
};

export const structureRules: readonly Rule[] = [
  moreBrackets,
  freeStandingTips,
  shelfSags,
  shelfSagsPastAdvice,
  rodSags,
  shelfOverstressed,
  rodOverstressed,
  sagNotKnown,
  hardwarePastRating,
  anchorPastRating,
  screwsPulled,
  rodSpanLong,
  rodThin,
  wideWardrobe,
  tallPanelStrip,
];
