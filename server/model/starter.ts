/** The starter set that ships with the tool: garments and policies, each value marked with what it rests on. A project's own go before these. */
import { Source } from '../../grammar/source.ts';
import { Names } from './names.ts';
import { topWords } from './vocabulary.ts';

// Hanging lengths are from the rod's centre to the hem on the hanger. Rod a garment takes:
// source: "Clothes Planning Dimensions" (2 in women's, 2-1/2 in men's, 4 to 5 in coats and gowns), where
// a value is taken from it; everything else is common practice, no source.
const text = `/// A shirt or blouse on a hanger.
garment shirt { hang 36in; hanger 17in; takes 2in; source "common practice, no source" }
/// A jacket or blazer.
garment jacket { hang 38in; hanger 17in; takes 3in; source "common practice, no source" }
/// Trousers folded over the bar of a hanger.
garment folded-trousers { hang 28in; hanger 17in; takes 2in; source "common practice, no source" }
/// Trousers hung by the cuff.
garment long-trousers { hang 46in; hanger 14in; takes 2in; source "common practice, no source" }
/// A skirt.
garment skirt { hang 34in; hanger 14in; takes 2in; source "common practice, no source" }
/// A street dress.
garment dress { hang 50in; hanger 17in; takes 2in; source "common practice, no source" }
/// A floor-length dress or gown.
garment long-dress { hang 66in; hanger 17in; takes 4in; source "takes: clothes planning dimensions; the rest common practice, no source" }
/// A coat to the hip.
garment short-coat { hang 42in; hanger 18in; takes 4in; source "takes: clothes planning dimensions; the rest common practice, no source" }
/// A coat to the calf.
garment long-coat { hang 56in; hanger 18in; takes 4in; source "takes: clothes planning dimensions; the rest common practice, no source" }
/// A child's garment.
garment child-garment { hang 24in; hanger 12in; takes 1-1/2in; source "common practice, no source" }

/// Reach from a wheelchair with nothing in the way, from in front and from the side: 2010 ADA Standards for
/// Accessible Design, 308.2.1 and 308.3.1. Which units it holds for, the local code says.
policy accessible-2010 { reach forward 48in; reach side 48in }
/// Clothes rods of the older federal standard: UFAS, 1984, 4.25.3.
policy accessible-1984 { limit rod-height at most 54in }
/// Shelves of architectural woodwork: 40 lbf/ft2, 200 lbf on one shelf at the most, and a 144th of the
/// span: Architectural Woodwork Standards, 10-1.2.21 (edition 1, 2009).
policy woodwork-2009 { load shelf 40 lbf/ft2; load total 200 lbf; deflection shelf 144 }
/// The same for books: 50 lbf/ft2.
policy woodwork-2009-books extends woodwork-2009 { load shelf 50 lbf/ft2 }
/// Clothes on a rod. No authoritative weight of clothes for a length of rod was found: 30 lbf/ft is a value
/// to start from and no more. Weigh what is to hang there, and say so with a policy of your own.
policy clothes-weight { load hanging 30 lbf/ft; deflection rod 144 }
`;

export const starterSource = new Source('starter.closet', text, topWords);

export const starterNames = new Names();
for (const statement of starterSource.statements()) starterNames.add(statement);
