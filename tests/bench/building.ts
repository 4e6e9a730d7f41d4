/** A building that gives every rule something to do: ten templates with loads, doors, lights, drawers and hardware. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

const example = (name: string): string =>
  readFileSync(join(import.meta.dirname, '../../examples/quarry-lane', name), 'utf8');

const head = `project "Quarry Lane" {
  show inches to 1/16in
  currency EUR
  policy everyday
}
policy everyday {
  limit rod-height at most 84in
  reach side 84in
  load shelf 15 lbf/ft2
  load hanging 10 lbf/ft
  deflection shelf 144
  building flats
}
`;

const template = (i: number): string => `template t${i} {
  parameter width: length from 90in to 100in
  depth 12in
  board white-12
  pole chrome
  carried by rear-support, angle-bracket, rod-hook, end-cup
  wall left { length 25in; height 96in; studs 1in, 16in }
  wall back { length width; height 96in; studs every 16in from ${14.5 + i / 4}in; lining 1/2in }
  wall right { length 25in; height 96in; studs 9in, 24in }
  wall front { length width; height 96in }
  opening front { width ${i % 2 === 0 ? '60in' : '36in'}; height 80in; centred; ${i % 2 === 0 ? 'leaves sliding' : 'swing out hinged left'} }
  fixture outlet on right { from left 6in; height 16in; clear 1in }
  fixture light lamp on ceiling { from left 40in; from back 22in; size 4in by 4in; lamp recessed led enclosed }
  zone shirts on back {
    width 48in
    shelf high { at 84in }
    rod upper { under high by 3in; from wall 9in; for shirt }
    shelf low { at 42in }
    rod lower { under low by 3in; from wall 9in; for folded-trousers }
  }
  zone tower on back after shirts {
    width 24in
    carried by tower-support, tower-clip, tower-bracket, shelf-pin, end-cover
    panels sides
    shelf top { at 84in; fixed }
    shelves loose between shoes and top { count ${3 + (i % 3)}; pitch from 8in to 24in }
    shelf shoes { at ${26 + (i % 4)}in; fixed; load 20 lbf/ft2 }
    drawers chest { at 7in; count 2; height 8in; depth 12in; pull-out 8in }
  }
  zone coats on back after tower {
    width fill at least 16in
    shelf top { at 72in }
    rod long { under top by 3in; from wall 9in; for long-coat }
  }
}
`;

/** Units of ten templates in turn; of the first ones so many are measured, each wall another length. */
export function building(units: number, surveys: number): string {
  const parts = [head, ...['materials', 'hardware', 'garments', 'stock'].map((name) => example(`${name}.closet`))];
  for (let i = 0; i < 10; i++) parts.push(template(i));
  for (let i = 0; i < units; i++) {
    const width = 92 + (i % 7);
    parts.push(`unit u${i} t${i % 10} {\n  floor ${i % 40}\n  flat A-${i}\n  width ${width}in\n}\n`);
    if (i >= surveys) continue;
    // 1/16 in and 0.01 mm apart: no two are equal.
    const most = (width * 25.4 + 20 + i / 100).toFixed(2);
    const least = (width * 25.4 + 18 + i / 100).toFixed(2);
    parts.push(`survey u${i} { wall back { length ${most}mm at 6in; length ${least}mm at 86in } }\n`);
  }
  return parts.join('\n');
}
