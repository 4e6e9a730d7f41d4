/** A template with a shelf as wide as its wall, and two units of it, of which nothing is told. */
export const twoUnits = `template t {
  parameter width: length = 60in
  wall back { length width; height 96in }
  board white-12
  zone a on back { width fill; shelf s { at 60in } }
}
unit u t
unit v t { width 50in }
`;
