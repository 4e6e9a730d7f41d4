/** Small projects that several tests share. */

/** Nothing is found in it: one shelf of 36 in, and boards of 8 ft without end. */
export const clean = `project "Quarry Lane" { currency EUR; kerf 1/8in; saw-step 1/16in }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft price 18.90 EUR unlimited }
template linen {
  board white-12
  wall back { length 36in; height 96in }
  zone main on back { width fill; shelf top { at 72in } }
}
unit A-101-linen linen { floor 1; flat A-101; phase 1 }
`;

/** Declares one name twice, which is an error on its last line. */
export const wrong = `${clean}unit A-101-linen linen\n`;

/** A rod that names no garment is worth a note. */
export const noted = `${clean}rod chrome { diameter 1in }
stock chrome { length 8ft }
template coats {
  wall back { length 36in; height 96in }
  zone main on back { width fill; rod one { at 60in; pole chrome } }
}
unit A-101-coats coats
`;

/** A material without stock is a warning. */
export const warned = clean.replace(/^stock.*\n/m, '');
