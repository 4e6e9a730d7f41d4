/**
 * The part of the verifier that knows what offcuts are worth: a bound on what boards cost less what is left of
 * them is worth. A board holds `holds` of the pieces' weight at most, and `along` of it together with the weight of
 * what is left. All pieces are held, so the rest of `along` is the most that the offcuts can weigh.
 */

/** Boards of one stock. */
export interface Along {
  readonly holds: bigint;
  readonly along: bigint;
  readonly price: bigint;
  /** Undefined: any number. */
  readonly count: bigint | undefined;
}

/** Prices that are gone through at most. */
const MOST_PRICES = 2n ** 20n;
const EXACT = 2n ** 53n;

/** `weight` is that of a minor unit. Never below 0: no board is worth more than it costs. */
export function leastNet(rows: readonly Along[], need: bigint, weight: bigint): bigint {
  const inParts = netInParts(rows, need, weight);
  if (inParts === undefined) return 0n;
  const whole = netOfWholeBoards(rows, need, weight) ?? 0n;
  const better = whole > inParts ? whole : inParts;
  return better > 0n ? better : 0n;
}

/** What a board costs, in weight, beyond all that it can hold. */
function netOf({ price, along }: Along, weight: bigint): bigint {
  return price * weight - along;
}

/** Undefined where boards that cost less than they can hold are there in any number. */
function netInParts(rows: readonly Along[], need: bigint, weight: bigint): bigint | undefined {
  let open = need;
  let sum = need;
  const others: Along[] = [];
  for (const row of rows) {
    const net = netOf(row, weight);
    if (net >= 0n) {
      if (row.holds > 0n) others.push(row);
      continue;
    }
    if (row.count === undefined) return undefined;
    sum += net * row.count;
    open -= row.holds * row.count;
  }
  others.sort((a, b) => {
    const difference = netOf(a, weight) * b.holds - netOf(b, weight) * a.holds;
    return difference < 0n ? -1 : difference > 0n ? 1 : 0;
  });
  for (const row of others) {
    if (open <= 0n) break;
    const part = row.count === undefined ? open : least(row.count * row.holds, open);
    sum += divided(part * netOf(row, weight), row.holds);
    open -= part;
  }
  return divided(sum, weight);
}

/** By whole boards, price for price; dearer ones than are gone through are bounded in parts. */
function netOfWholeBoards(rows: readonly Along[], need: bigint, weight: bigint): bigint | undefined {
  let step = 0n;
  for (const row of rows) for (let { price } = row; price !== 0n; ) [step, price] = [price, step % price];
  if (step === 0n) return undefined;
  const useful = rows.filter(({ along }) => along > 0n);
  if (useful.some(({ price, count }) => price === 0n && count === undefined)) return undefined;
  const dearest = largest(useful.map(({ price }) => price));
  const heaviest = largest(useful.map(({ along }) => along));
  let free = 0n;
  for (const { price, along, count } of useful) if (price === 0n) free += along * (count as bigint);
  // As far as the boards go that hold all by themselves, those first that hold the most for their price.
  let reach = 3n * dearest;
  let open = need;
  const byPrice = useful.filter(({ holds }) => holds > 0n);
  byPrice.sort((a, b) => Number(a.price * b.holds - b.price * a.holds));
  for (const { holds, price, count } of byPrice) {
    if (open <= 0n) break;
    const wanted = divided(open, holds);
    const many = count === undefined ? wanted : least(count, wanted);
    reach += many * price;
    open -= many * holds;
  }
  // As many prices as can be added up exactly.
  const exact = heaviest === 0n ? 0n : (EXACT - need - free) / (2n * heaviest);
  const cells = least(reach / step + 1n, MOST_PRICES, exact);
  if (cells <= 0n) return undefined;

  const holds = mostByPrice(useful, ({ holds }) => holds, Number(cells), step);
  const along = mostByPrice(useful, ({ along }) => along, Number(cells), step);
  let found = dearerThan(cells * step, rows, need, weight);
  for (let at = 0; at < holds.length; at++) {
    const spare = BigInt(along[at] as number) - need;
    if (spare < 0n || BigInt(holds[at] as number) < need) continue;
    const net = BigInt(at) * step - spare / weight;
    if (found === undefined || net < found) found = net;
  }
  return found;
}

/** A bound for boards that come to at least this price; undefined where there are none such. */
function dearerThan(price: bigint, rows: readonly Along[], need: bigint, weight: bigint): bigint | undefined {
  let sum = need;
  let gained = 0n;
  for (const row of rows) {
    const net = netOf(row, weight);
    if (net >= 0n) continue;
    sum += net * (row.count as bigint);
    gained += row.price * (row.count as bigint);
  }
  const rest = price > gained ? price - gained : 0n;
  const costly = rows.filter((row) => row.price > 0n && netOf(row, weight) >= 0n);
  if (costly.length === 0) return rest > 0n ? undefined : divided(sum, weight);
  const [first, ...others] = costly.map((row) => (netOf(row, weight) * rest) / row.price);
  return divided(sum + least(first as bigint, ...others), weight);
}

/** The most that boards come to, by what they cost together at most, in steps; sums stay below 2^53. */
function mostByPrice(rows: readonly Along[], of: (row: Along) => bigint, cells: number, step: bigint): Float64Array {
  const most = new Float64Array(cells);
  for (const row of rows)
    if (row.price === 0n) most.fill((most[0] as number) + Number(of(row) * (row.count as bigint)));
  for (const row of rows) {
    const units = Number(row.price / step);
    if (units === 0 || units >= cells) continue;
    const each = Number(of(row));
    const fit = Math.floor((cells - 1) / units);
    const many = row.count === undefined ? fit : Math.min(fit, Number(row.count));
    // Bundles of 1, 2, 4, ... and the rest make every number up to that.
    for (let left = many, bundle = 1; left > 0; left -= bundle, bundle = Math.min(2 * bundle, left)) {
      for (let at = cells - 1; at >= units * bundle; at--) {
        const filled = (most[at - units * bundle] as number) + each * bundle;
        if (filled > (most[at] as number)) most[at] = filled;
      }
    }
  }
  return most;
}

/** Rounded up; nothing for less than nothing. */
function divided(amount: bigint, by: bigint): bigint {
  return amount <= 0n ? 0n : (amount + by - 1n) / by;
}

/** 0 where there are none. */
function largest(numbers: readonly bigint[]): bigint {
  let most = 0n;
  for (const each of numbers) if (each > most) most = each;
  return most;
}

function least(...numbers: readonly [bigint, ...bigint[]]): bigint {
  let [lowest] = numbers;
  for (const each of numbers) if (each < lowest) lowest = each;
  return lowest;
}
