/** Counts and money as people read them. */

/** `1,204`. What the language of the computer would do takes long to load, and the tool speaks English. */
export function grouped(count: number): string {
  return String(count).replace(/(?<![.]\d*)\B(?=(\d{3})+(?!\d))/g, ',');
}

/** `1 board`, `12 boards`, `1,204 boards`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${grouped(count)} ${count === 1 ? one : many}`;
}

/** Money in hundredths: `14.50 EUR`, or `14.50` where the project names no currency. */
export function money(hundredths: number, currency: string | undefined): string {
  const whole = grouped(Math.floor(hundredths / 100));
  const amount = `${whole}.${String(hundredths % 100).padStart(2, '0')}`;
  return currency === undefined ? amount : `${amount} ${currency}`;
}
