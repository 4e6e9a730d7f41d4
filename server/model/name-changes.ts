/** How often any name came or went anywhere: while the count stays, every name means what it meant. */
let count = 0;

export function nameChanges(): number {
  return count;
}

export function nameChanged(): void {
  count++;
}
