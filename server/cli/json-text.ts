/**
 * JSON in pieces, so that a report need not fit in memory. A list that is an array is written whole; any other
 * iterable is a list whose items are made one at a time as they are written, each on a line of its own.
 */

/** A list that is made while it is written: once, and each item for as long as it takes to write it. */
export function* each<T>(items: Iterable<T>, made: (item: T) => object): Generator<object> {
  for (const item of items) yield made(item);
}

/** `value` holds what JSON can say, and such lists. Those are used up. */
export function* jsonPieces(value: object): Generator<string> {
  if (isMadeLate(value)) yield* listPieces(value);
  else if (Object.values(value).some(isMadeLate)) yield* objectPieces(value);
  else yield JSON.stringify(value);
}

function* listPieces(items: Iterable<object>): Generator<string> {
  let before = '[\n';
  for (const item of items) {
    yield before;
    yield* jsonPieces(item);
    before = ',\n';
  }
  yield before === '[\n' ? '[]' : '\n]';
}

function* objectPieces(object: object): Generator<string> {
  let before = '{';
  for (const [name, value] of Object.entries(object)) {
    yield `${before}${JSON.stringify(name)}:`;
    if (isMadeLate(value)) yield* listPieces(value);
    else yield JSON.stringify(value);
    before = ',';
  }
  yield '}';
}

function isMadeLate(value: unknown): value is Iterable<object> {
  return typeof value === 'object' && value !== null && !Array.isArray(value) && Symbol.iterator in value;
}
