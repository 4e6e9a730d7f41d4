/** The schema of a cutting plan. */
import { length, lengthOrNull, list, object, oneOf, orNull, ref, text, textOrNull, whole, yesOrNo } from './schema.ts';

const savings = object(
  {
    boards: { type: 'integer', description: 'Below 0 where shorter boards are taken, and more of them.' },
    price: orNull(ref('money'), 'Of the materials that have prices; null for nothing.'),
    length: orNull(length, 'Bought, of the materials that have no prices; null for nothing.'),
    pieces: whole(0, 'That no stock holds as it is, and some does then.'),
    atLeast: yesOrNo('It may be more: the plan as it is was not proven to be the best.'),
  },
  'Compared with what the pieces as they are cannot cost less than.',
);

const advice = {
  waitingPlaces: list(
    object({
      unit: text('The unit, or the loose part; units that share one layout are named together.'),
      units: list(text(), 'The names of all of them.'),
      path: text(),
      quantity: whole(0),
    }),
  ),
  waiting: object({ piece: text('The id of a piece.'), length, quantity: whole(1), for: ref('waitingPlaces') }),
  shortfall: object({
    material: text(),
    proven: yesOrNo('Whether it is proven in whole numbers that the counts do not hold all pieces.'),
    waiting: list(ref('waiting'), 'What the plan leaves; `for` names all places of such a piece.'),
    unbuyable: list(ref('waiting'), 'Of these, what only an offcut on the rack is long enough for.'),
    purchases: list(
      object(
        {
          aims: list(oneOf('least', 'cheapest')),
          proven: list(oneOf('least', 'cheapest'), 'The aims in which no purchase is better.'),
          boards: list(object({ stock: text('The id of a stock.'), length, count: whole(1) })),
          boardCount: whole(1),
          length,
          price: orNull(ref('money'), 'null where not all stock to be bought has a price.'),
          with: object(
            { boardCount: whole(1), price: orNull(ref('money')), boughtLength: length },
            'What the material comes to with it, what is counted included.',
          ),
        },
        'Boards beyond the counts with which a plan was found that holds.',
      ),
    ),
  }),
  nearMiss: object(
    {
      dimension: oneOf('width', 'height', 'length', 'fitting'),
      name: text('The zone, the fitting or the loose part.'),
      by: ref('length', 'How much smaller it would be.'),
      saves: savings,
      further: orNull(object({ by: length, saves: savings }), 'By as much as may be asked, where that saves more.'),
      parts: list(
        object({
          unit: text(),
          units: list(text()),
          path: text(),
          quantity: whole(0),
          material: text(),
          length: ref('length', 'As it is.'),
        }),
        'What would be shorter.',
      ),
    },
    'A dimension that, a little smaller, would save stock; found by planning again.',
  ),
};

const figures = { price: orNull(ref('money')), length: lengthOrNull, boards: whole(0) };

export const plan = {
  ...advice,
  certificate: object(
    {
      grid: whole(1, 'Ticks; lengths are divided by it and rounded down before patterns are weighed.'),
      worth: {
        type: ['integer', 'null'],
        minimum: 1,
        description:
          'What a hundredth of the worth of kept offcuts weighs; null where they are worth nothing. A board holds no more weight in parts and worth together than its best pattern.',
      },
      weights: list(
        object({
          length,
          weight: whole(0, 'Of one piece of that length, or one matched set that takes so much of a board.'),
        }),
      ),
    },
    'Weights in place of lengths. A board holds no more weight than its best pattern, and the boards of any plan hold all of it.',
  ),
  piece: object(
    {
      id: text(),
      material: text(),
      length,
      quantity: whole(0),
      for: ref('waitingPlaces'),
    },
    'Equal pieces.',
  ),
  matchedSet: object(
    {
      id: text(),
      name: textOrNull('As the project calls it.'),
      runs: list(
        object({ piece: text('The id of a piece.'), quantity: whole(1) }),
        'In the order in which they lie on the board.',
      ),
      quantity: whole(0, 'How many such sets there are, each by itself.'),
    },
    'Pieces that must come from one board, one after another.',
  ),
  worth: object(
    { material: text(), price: ref('money'), per: ref('length', 'The price is for so much length.') },
    'What kept offcuts are worth, each rounded down to a hundredth. A plan is judged by price + takenValue - keptValue.',
  ),
  stock: object({
    id: text(),
    material: text(),
    length,
    offcut: yesOrNo('Lies on the rack already.'),
    price: orNull(ref('money')),
    count: { type: ['integer', 'null'], minimum: 0, description: 'null: as many as wanted.' },
  }),
  pattern: object(
    {
      stock: text('The id of a stock.'),
      material: text(),
      length: ref('length', 'Of the board.'),
      times: whole(1),
      cuts: list(
        object({
          piece: text('The id of a piece.'),
          length,
          quantity: whole(1),
          set: textOrNull('The id of the matched set of which this is a run; null for none.'),
        }),
        'In the order of cutting.',
      ),
      spares: list(
        object({ spare: text('The id of a spare.'), length, quantity: whole(1) }),
        'Cut after the pieces from what is left, the longest first.',
      ),
      used: ref('length', 'Pieces and spares together.'),
      kerfLoss: length,
      offcut: ref('length', 'Length of the board = two trims + used + kerfLoss + offcut.'),
      keep: yesOrNo('Whether the offcut goes back to the rack.'),
    },
    'One way to cut a board, and how many boards are cut that way. Lengths are of one board.',
  ),
  totals: object(
    {
      material: text(),
      boards: list(object({ stock: text(), length, count: whole(1) })),
      boardCount: whole(0),
      pieceCount: whole(0),
      spareCount: whole(0, 'Spares that were cut; not among the pieces.'),
      patternCount: whole(0, 'Different ways to cut a board: by its stock, and by how many of each length it gives.'),
      stopSettings: whole(
        0,
        "How often the saw's stop is set when patterns are cut in the order of the list: once for each length of a pattern, the longest first, unless the stop stands there already; patterns that follow each other and give the same lengths are cut together.",
      ),
      before: orNull(
        object({ patternCount: whole(1), stopSettings: whole(1) }),
        'What the plan of this cost came to that was found first; null where it has not been cut anew.',
      ),
      withinLimits: yesOrNo('Whether both figures keep to the limits of the project.'),
      price: orNull(ref('money'), 'null where not all stock to be bought has a price.'),
      keptValue: orNull(ref('money'), 'What the kept offcuts are worth; null where they are worth nothing.'),
      takenValue: orNull(
        ref('money'),
        'What the offcuts taken from the rack are worth there, as far as that is more than their price.',
      ),
      boughtLength: ref('length', 'Without what lies on the rack.'),
      stockLength: length,
      usedLength: length,
      trimLoss: length,
      kerfLoss: length,
      keptCount: whole(0),
      keptLength: length,
      waste: length,
      bound: object(
        {
          proof: {
            ...oneOf('length', 'dual', 'search'),
            description:
              'length: by adding up lengths. dual: by the weights of the certificate, which storypole plan --verify works out again. search: by ruling out every other way to cut in floating-point arithmetic; what can be worked out again is in certified.',
          },
          measure: oneOf('price', 'length'),
          ...figures,
          certificate: orNull(ref('certificate')),
          certified: orNull(object({ ...figures, certificate: orNull(ref('certificate')) })),
        },
        'What no plan that cuts the same pieces can fall below.',
      ),
    },
    'stockLength = trimLoss + usedLength + kerfLoss + keptLength + waste.',
  ),
  verifiedProject: object({
    title: text(),
    root: text(),
    planned: yesOrNo(),
    holds: yesOrNo('Whether nothing was found wrong with the plan.'),
    violations: list(object({ rule: text(), where: text(), message: text() })),
  }),
  planProject: {
    description: 'The plan is always of the whole project.',
    allOf: [
      ref('project'),
      object({
        group: orNull(
          object({ by: oneOf('floor', 'phase'), name: textOrNull('null for what names none.') }),
          'The delivery that is planned, with what those before it left; null for all at once.',
        ),
        saw: object({
          kerf: length,
          trim: length,
          keepOffcutsFrom: length,
          step: { ...lengthOrNull, description: 'Spares are cut to multiples of it. null where there are none.' },
        }),
        limits: object(
          {
            patterns: { type: ['integer', 'null'], minimum: 1 },
            stopSettings: { type: ['integer', 'null'], minimum: 1 },
          },
          'What the plan of each material was to keep to at the same cost; null where nothing was said.',
        ),
        pieces: list(ref('piece')),
        sets: list(ref('matchedSet')),
        spares: list(
          object(
            {
              id: text(),
              material: text(),
              least: length,
              most: length,
              wanted: whole(0),
              cut: whole(0, 'As many as found room.'),
            },
            'Pieces of any length from least to most that nothing is bought for: cut from what the plan leaves of its boards, as many as can be, then as long as can be.',
          ),
        ),
        stock: list(ref('stock')),
        worth: list(ref('worth')),
        planned: yesOrNo('False where there is nothing to cut, or more than can be added up exactly.'),
        verified: yesOrNo('Whether a verifier that shares no code with the planner finds that the plan holds.'),
        patterns: list(ref('pattern')),
        offcutsKept: list(object({ material: text(), length, count: whole(1) })),
        uncut: list(
          object({
            piece: text('The id of a piece.'),
            material: text(),
            length,
            quantity: whole(1),
            reason: oneOf('no stock of this material', 'longer than any stock', 'stock used up'),
          }),
        ),
        totals: list(ref('totals')),
        shortfalls: list(ref('shortfall'), 'Materials of which pieces wait for stock.'),
        nearMisses: list(ref('nearMiss'), 'What saves most comes first.'),
        findings: list(ref('finding'), 'Those about stock.'),
      }),
    ],
  },
};
