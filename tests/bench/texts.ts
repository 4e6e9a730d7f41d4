/** Texts of any length, as designers write them, and the same amount of TypeScript for a peer. */

const template = (name: string): string => `template ${name} {
  parameter width: length from 20in to 98in
  board white-12
  pole chrome
  wall back { length width; height 96in }
  zone a on back {
    width fill
    shelf s { at 84in }
    rod r { under s by 3in; for shirt }
  }
}
`;

const head = `project "Quarry Lane" { kerf 1/8in; saw-step 1/16in }
board white-12 { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/4in }
stock white-12 { length 12ft }
stock chrome { length 12ft }
`;

/** Ten templates, fewer in a short text, and units of five lines until the text has so many lines. */
export function manyUnits(lines: number): string {
  const templates = Math.min(10, Math.ceil(lines / 50));
  let text = head;
  for (let i = 0; i < templates; i++) text += template(`t${i}`);
  let count = text.split('\n').length;
  for (let i = 0; count < lines; i++, count += 5) {
    text += `unit u${i} t${i % templates} {\n  floor ${i % 5}\n  flat A-${i}\n  width ${40 + (i % 50)}in\n}\n`;
  }
  return text;
}

/** One template of so many lines: zones of eight lines along one wall. */
export function longTemplate(lines: number): string {
  let zones = '';
  const count = Math.floor((lines - 8) / 8);
  for (let i = 0; i < count; i++) {
    zones += `  zone z${i} on back ${i > 0 ? `after z${i - 1} ` : ''}{
    width 24in
    shelf top { at 84in }
    shelf low { at 42in }
    rod r {
      under top by 3in; for shirt
    }
  }
`;
  }
  return `${head}template long {
  board white-12
  pole chrome
  wall back { length ${count * 24}in; height 96in }
${zones}}
unit u long
`;
}

/** As many lines of declarations that refer to each other. */
export function typescript(lines: number): string {
  let text = 'export interface Base { readonly width: number; readonly name: string }\n';
  for (let i = 0, count = 1; count < lines; i++, count += 5) {
    text += `export const u${i}: Base = {\n  width: ${i % 50},\n  name: 'A-${i}',\n};\nexport const w${i}: number = u${i}.width;\n`;
  }
  return text;
}
