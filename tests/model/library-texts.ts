/** A library that uses another, and a project that uses it in every way there is; and the same with all of it in the project. */

/** What several libraries build on. */
export const base = `
/// Holds the back edge of a shelf.
hardware rear {
  is support; spacing at most 24in; inset 2in; shift 6in; anchor plug
  screws "#8 x 1-1/2 in" count 2 into wall; screws "#4 x 3/4 in" into part; pack 25 price 21.50 EUR
}
hardware arm {
  is bracket; reach 12in; leg 9in; inset 6in; spacing at most 36in; shift 9in by 1-1/2in; anchor plug
  screws "#8 x 3 in" count 2 into wall; pack 10 price 34.00 EUR
}
hardware deep-arm { is bracket; reach 16in; leg 12in; inset 6in; anchor plug; screws "#8 x 3 in" count 2 into wall }
hardware hook { is hook; set-back 3in; screws "#8 x 1 in" into part; pack 10 price 12.40 EUR }
hardware cup { is cup; takes 3/8in for "the cup"; anchor plug; screws "#8 x 1-1/2 in" count 2 into wall }
hardware pin { is pin; least 4; inset 1-1/2in; pack 100 price 6.20 EUR }
hardware corner { is tie; at top bottom; anchor plug; screws "#8 x 1-1/2 in" into wall }
hardware plug { is anchor; rated 100 lb; pack 50 price 18.00 EUR }
garment house-coat { hang 42in; hanger 17in; takes 2in; weight 3 lb }
policy plain { limit rod-height at most 84in; load shelf 15 lbf/ft2; load hanging 15 lbf/ft; deflection 144 }
`;

export const trade = `
use "../base" as base
board white { depth 12in; thickness 3/4in; stiffness 330 ksi; weight 2.5 lb/ft2 }
board deep {
  depth 16in; thickness 3/4in; stiffness 330 ksi; weight 2.5 lb/ft2; ripping allowed
  ends take 1/16in for "room"; carried by base.rear, base.deep-arm
}
rod chrome { diameter 1-1/16in; tube 0.049in; stiffness 29000 ksi; ends with base.cup; weight 0.6 lb/ft }
hardware clip { is support; spacing at most 20in; anchor base.plug; screws "#8 x 1-1/2 in" count 3 into wall; pack 12 price 7.00 EUR }
garment gown { hang 60in; hanger 18in; takes 3in; weight 4 lb }
policy high extends base.plain { limit rod-height at most 82in; treat shelf-height-limit as note }
policy accessible extends high { limit rod-height from 15in to 48in; limit shelf-height from 15in to 48in }
template shell {
  parameter width: length = 60in from 30in to 120in
  parameter made: board = white
  parameter clipped: hardware = clip
  parameter hung: garment = gown
  parameter bar: rod = chrome
  wall left { length 25in; height 96in; studs 1in, 16in }
  wall back { length width; height 96in; studs every 16in from 14-1/2in }
  wall right { length 25in; height 96in }
  fixture outlet on back { from left 20in; height 16in }
  board made
  pole bar
  carried by base.rear, base.arm, base.hook, base.cup
}
template single extends shell {
  zone a on back {
    width fill
    shelf high { at 84in }
    shelf low { at 14in; held by clipped }
    rod pole { under high by 3in; for hung; from wall 9in; holds 6 hung }
  }
}
template tower extends single {
  zone a { width fill at least 10in }
  zone t on back after a {
    width 24in
    carried by clip, base.corner, base.pin
    panels sides
    shelf top { at 84in; fixed; board white }
    shelves loose between shoes and top { count 3; board white }
    shelf shoes { at 8in; tilted; fixed; board white }
  }
}
`;

const project = `
project "House" { currency EUR; show inches to 1/16in; kerf 1/8in; saw-step 1/16in; policy trade.high }
stock trade.white { length 8ft price 18.90 EUR count 9; length 12ft price 28.20 EUR; offcut 50in count 2; lead 10 days }
stock trade.chrome { length 8ft price 9.80 EUR count 7; length 12ft price 14.20 EUR }
stock trade.deep { length 8ft price 24.60 EUR; length 12ft price 35.90 EUR; keep-offcuts worth 0.10 EUR per 1ft }
stock own { length 12ft price 10 EUR }
extra spares { board trade.white; length 22-1/2in; count 3 }
extra bars { rod trade.chrome; length 20in; count 2 }
policy local extends trade.accessible { limit shelf-height from 15in to 90in }
board own {
  depth 16in; thickness 1in; stiffness 300 ksi; weight 3 lb/ft2; ripping allowed
  ends with trade.base.cup; carried by trade.base.rear, trade.clip
}
hardware own-hook { is hook; anchor trade.base.plug; screws "#8 x 2 in" into wall }
garment robe { hang 50in; hanger 17in; takes 2in }
template mine extends trade.single {
  parameter shoe: board = trade.deep
  zone a {
    shelf low { at 20in; board shoe; carried by trade.base.rear, trade.base.deep-arm }
    shelf mid { at 40in }
  }
}
template over extends mine { zone a { rod pole { for robe, trade.gown }; shelf mid { at 42in; board trade.white } } }
template alone {
  parameter made: board = trade.white
  parameter hung: garment = trade.base.house-coat
  wall back { length 70in; height 96in; studs every 16in from 8in }
  board made
  pole trade.chrome
  carried by trade.base.rear, trade.base.arm, trade.base.hook, trade.clip
  zone a on back {
    width fill
    shelf high { at 84in }
    rod pole { at 80in; for hung, trade.gown; from wall 9in }
    shelf low { at 12in; board own }
  }
}
accept rod-height-limit at trade.single.a because "agreed"
`;

const files = { base, trade };
const prefixes = /\b(?:trade\.base|trade|yard|base)\./g;

/** What libraries declare, with the names that a project has to write taken away. */
export function plain(text: string): string {
  return text.replace(prefixes, '');
}

/** The project with its libraries beside it; `units` and more in its own words. */
export function using(more: string): Record<string, string> {
  return {
    '/r/.git/x': '',
    '/r/base/all.closet': files.base,
    '/r/trade/all.closet': files.trade,
    '/r/house/project.closet': `use "../trade" as trade\n${project}`,
    '/r/house/units.closet': more,
  };
}

/** The same, with what the libraries declare written into the project. */
export function inlined(more: string): Record<string, string> {
  return {
    '/r/.git/x': '',
    '/r/house/base.closet': plain(files.base),
    '/r/house/trade.closet': plain(files.trade.replace(/^use .*$/m, '')),
    '/r/house/project.closet': plain(project),
    '/r/house/units.closet': plain(more),
  };
}
