/**
 * A project of four files with something of everything in it: policies, materials, a template that extends another,
 * units that are mirrored, overridden and measured, extras, agreements. Invented.
 */
export const smallProject: Readonly<Record<string, string>> = {
  '/p/project.closet': `project "Quarry Lane" { kerf 1/8in; saw-step 1/16in; policy everyday }
policy everyday { limit rod-height at most 84in; load shelf 40 lbf/ft2; load hanging 30 lbf/ft; deflection 144; creep 1.5 }
policy low extends everyday { limit rod-height at most 48in; treat rod-near-wall as note; reach side 48in; building flats sprinklered }
`,
  '/p/materials.closet': `board white-12 { depth 12in; thickness 3/4in; stiffness 330 ksi; carried by clip }
rod chrome { diameter 1-1/4in; ends with cup }
hardware cup { is cup; takes 3/8in for "the cup"; anchor plug }
hardware clip { is support; spacing at most 24in; shift 2in; in-stud 1; anchor plug; screws "#8 x 1-1/2 in" count 2 }
hardware plug { is anchor; rated 50 lb }
stock white-12 { length 8ft count 4; length 6ft }
stock chrome { length 8ft }
garment coat { hang 50in; hanger 18in }
`,
  '/p/templates.closet': `/// Two zones.
template reach-in {
  parameter width: length from 92in to 98in
  board white-12
  pole chrome
  persons 2
  wall left { length 25in; height 96in }
  wall back { length width; height 96in; studs every 16in from 14-1/2in }
  corner left back { angle 89deg }
  opening front { width 60in; height 80in; swing in hinged left; approach latch-side; pull bar at 40in }
  fixture light on ceiling { from left 40in; from back 20in; lamp surface led enclosed }
  fixture appliance on left { from left 12in; height 30in; depth 12in; burns gas; heats water }
  fixture slope on back { height 92in; run 20in }
  zone shirts on back {
    width 48in
    shelf high { at 84in }
    panels { free-standing }
    rod upper { under high by 3in; for shirt, coat }
  }
  zone coats on back after shirts { width fill; shelf top { at 72in; load 50 lbf/ft2 }; drawers chest { at 8in; count 2; height 8in; depth 14in; pull knob } }
}
template tall extends reach-in { zone shirts { shelf high { at 90in } } }
`,
  '/p/units.closet': `unit a reach-in { width 94in; floor 1 }
unit b reach-in mirrored { width 94in; policy low }
unit c tall { width 96in; override shirts.high { at 88in } }
survey a { corner left back { angle 91deg }; wall back { length 93-7/8in at 6in; length 93-1/2in at 84in } }
extra spare { board white-12; length 24in; count 3 }
accept rod-height-limit at b.shirts because "agreed"
`,
};
