/** Rules of the language itself: text, words, names, quantities, projects, chains. Those about what is built are in checks/. */
import type { Rule, RuleFamily, RuleSource, Severity } from './rule.ts';

const language: RuleSource = { kind: 'language' };
const all: Rule[] = [];

function rule(
  family: RuleFamily,
  severity: Severity,
  id: string,
  title: string,
  explanation: string,
  comparison?: string,
  quiet?: Rule['quiet'],
): Rule {
  const more = { ...(comparison && { comparison }), ...(quiet && { quiet }) };
  const made: Rule = { id, family, severity, title, explanation, source: language, ...more };
  all.push(made);
  return made;
}

// Text
export const blockNotClosed = rule(
  'text',
  'error',
  'block-not-closed',
  'A block is not closed',
  'A { has no }. The block is taken to end where the indentation returns, or before the next line that begins at the left margin as a declaration does (`unit`, `template` and such), so that the rest of the file is read all the same. Close it where it ends.',
);
export const blockNotOpened = rule(
  'text',
  'error',
  'block-not-opened',
  'A block is not opened',
  'A } has no {. What a block holds stands deeper than the line that it belongs to, and some words stand in one kind of block alone: so it can be told behind what the { is missing, and all is read as if it were there. Write it.',
);
export const bracesMissing = rule(
  'text',
  'error',
  'braces-missing',
  'A block has no braces',
  'Lines stand deeper than the line before them, belong in its block and nowhere else, and neither { nor } is there. Indentation alone makes no block: until both are written, these lines are not read.',
);
export const braceWithoutBlock = rule(
  'text',
  'error',
  'brace-without-block',
  'A brace belongs to no block',
  'A } closes nothing, or a { follows no statement, or one { is too many. Remove it or complete what it belongs to.',
);
export const textNotClosed = rule(
  'text',
  'error',
  'text-not-closed',
  'A text has no closing quotation mark',
  'A text in quotation marks ends on the line it begins on. Close it with " before the line ends.',
);
export const commentNotClosed = rule(
  'text',
  'error',
  'comment-not-closed',
  'A comment is not closed',
  'A /* has no */. The comment is taken to end before the next line that begins at the left margin as a declaration does (`unit`, `template` and such). Close it where it ends.',
);
export const mergeConflict = rule(
  'text',
  'error',
  'merge-conflict',
  'A file holds both sides of a merge',
  'Version control could not put two changes of the same lines together, and left both of them between lines of <<<<<<<, ======= and >>>>>>>. Keep what is right of each, or one of the two, and remove the markers. As it stands the file says what nobody wrote, so nothing else is said of it.',
);
export const expressionIncomplete = rule(
  'text',
  'error',
  'expression-incomplete',
  'Something is missing in a value',
  'A number, a name, a closing parenthesis or a part of a number is missing, so nothing can be worked out from it. Complete it.',
);
export const characterNotExpected = rule(
  'text',
  'error',
  'character-not-expected',
  'Something means nothing where it stands',
  'These characters have no meaning at this place. The rest of the statement is read without them. Take them away, or write what was meant.',
);
export const nestedTooDeep = rule(
  'text',
  'error',
  'nested-too-deep',
  'Nested too deep',
  'Blocks or parentheses stand inside each other deeper than anything in a closet needs. What is deeper is not read. Close a block before it, or work out a part of the sum in a parameter of its own.',
);
export const tooLong = rule(
  'text',
  'error',
  'too-long',
  'Longer than is read',
  'A statement, a name or a block is longer than anything in a closet needs, as where a quotation mark or a line end is missing, or where something else was pasted. What is beyond the limit is not read; the declarations beside it are.',
);
export const fileNotText = rule(
  'text',
  'error',
  'file-not-text',
  'A file is not UTF-8 text',
  'A .closet file is UTF-8 text. This one holds bytes that are not, so it was saved in another encoding or is no text at all. Save it as UTF-8.',
);
export const fileTooLarge = rule(
  'text',
  'error',
  'file-too-large',
  'A file is too large to be read',
  'Files of more than 16 MB are not read. A building of ten thousand units takes about 1 MB. Divide the file into several: all of a folder are read together.',
);
export const fileUnreadable = rule(
  'text',
  'error',
  'file-unreadable',
  'A file cannot be read',
  'The system would not open the file or folder, for the reason that the finding gives. Until it can be read, what it declares is not known.',
);

// Words
export const wordNotKnown = rule(
  'words',
  'error',
  'word-not-known',
  'A word is not known',
  'The first word of a statement says what it is about. This one is not a word of the language, or not one that may stand here.',
);
export const phraseNotUnderstood = rule(
  'words',
  'error',
  'phrase-not-understood',
  'A statement cannot be understood',
  'What follows the first word does not fit it. The message says what could stand there.',
  undefined,
  'thing',
);
export const blockMissing = rule(
  'words',
  'error',
  'block-missing',
  'A statement needs a block',
  'This statement says nothing without the properties between { and }.',
);
export const blockNotExpected = rule(
  'words',
  'error',
  'block-not-expected',
  'A statement takes no block',
  'Nothing can stand between braces behind this word.',
);
export const wordRepeated = rule(
  'words',
  'error',
  'word-repeated',
  'Said twice',
  'This property stands twice in one block, and only one can hold. Remove one of them.',
);
export const testFailed = rule(
  'project',
  'error',
  'test-failed',
  'A test of a template does not hold',
  'A template says in its tests what has to come of what it is given: dimensions, and what the rules find. Either the template has become another without meaning to, or the test says what is no longer wanted. A test fails, too, for an error that it does not name with "finds".',
  undefined,
  'anything',
);
export const notCheckedYet = rule(
  'words',
  'note',
  'not-checked-yet',
  'Read and kept, not checked yet',
  'This statement is understood and kept, but nothing is computed from it yet. It is named so that nobody relies on it.',
);

// Names
export const nameNotKnown = rule(
  'names',
  'error',
  'name-not-known',
  'A name is not known',
  'Nothing of this kind has this name in the project. The nearest name is offered where there is one.',
);
export const nameTaken = rule(
  'names',
  'error',
  'name-taken',
  'Defined twice',
  'Two things of one kind have the same name, so that a statement that names it could mean either. The first one is used. Give one of them another name, or remove it.',
);
export const nameCircle = rule(
  'names',
  'error',
  'name-circle',
  'A circle',
  'Things that are built on each other lead back to where they began: a template that extends itself, a policy that extends itself, libraries that use each other. The whole circle is named. Take one step out of it.',
  undefined,
  'declaration',
);

export const policiesContradict = rule(
  'policy',
  'error',
  'policies-contradict',
  'Policies in force ask for what cannot be',
  'One policy sets the least of a limit above the most that another one sets, so that nothing meets both. Each end of a limit is that of the last policy in force that sets it. Change one of the two, or leave out the policy that is not meant.',
  'least of a limit <= most of it',
);

// Quantities
export const unitMissing = rule(
  'quantities',
  'error',
  'unit-of-measure-missing',
  'A length without unit of measure',
  'A length always says its unit of measure: 84in, 7ft, 2130mm. A bare number is never taken for one.',
);
export const unitNotKnown = rule(
  'quantities',
  'error',
  'unit-of-measure-not-known',
  'A unit of measure is not known',
  'The letters behind the number are no unit of measure of this language. Of lengths there are in, ft, mm, cm and m; the reference of the language lists all.',
);
export const wrongQuantity = rule(
  'quantities',
  'error',
  'wrong-kind-of-quantity',
  'The wrong kind of quantity',
  'A length stands where a count is needed, or the other way round, or two quantities of different kinds are added. Write one of the kind that is asked for.',
);
export const tooFine = rule(
  'quantities',
  'error',
  'finer-than-a-tick',
  'Finer than can be kept exactly',
  'Lengths are kept exactly in steps of 25 nm, in which 1/64 in, 0.001 in and 0.001 mm are whole. This one is not a whole number of them; its neighbours are offered.',
  'length = whole number of 25 nm',
);
export const outOfBounds = rule(
  'quantities',
  'error',
  'number-out-of-bounds',
  'A number out of bounds',
  'The number is negative where it cannot be, longer than 1 km, not whole where things are counted, or more than the tool takes on.',
);
export const unlikelySize = rule(
  'quantities',
  'warning',
  'unlikely-size',
  'An unlikely size',
  'The length is far greater or far less than anything of this kind is built, than what is drawn of the wall that was measured, or than the wall opposite. Most often feet stand where inches were meant, or inches where feet were. Where something cannot be built for it, it is an error, and what follows from it is not told by itself.',
  'least plausible length of its kind <= length <= greatest plausible length of its kind',
);

// Project
export const noProject = rule(
  'project',
  'note',
  'no-project',
  'No project',
  'This file is in no folder with a project, so it is taken as a project of its own with the defaults: inches, a kerf of 1/8in, a saw step of 1/16in.',
);
export const useNotFound = rule(
  'project',
  'error',
  'use-not-found',
  'A library is not there',
  'The path of a `use` names no .closet file, no folder that holds one, and no installed package. Correct the path, which begins at the folder of its own file, or install the package.',
);
export const useOutside = rule(
  'project',
  'error',
  'use-outside-workspace',
  'A library outside the workspace',
  'A `use` reaches only inside the workspace folder (or repository), or to an installed package, so that a project is whole wherever it is checked out. Move the library inside, or open the folder above both.',
);
export const libraryHasErrors = rule(
  'project',
  'error',
  'library-has-errors',
  'A library has errors',
  'Something that the library declares cannot be read or comes to nothing: a board, a rod, hardware, a garment, a policy, its stock or the text of a template. What is made from it here may lack that or be wrong, so it is told at the `use`, once a library, with those that it uses. Errors of its own units do not count. Mend it in the library.',
);
export const usePath = rule(
  'project',
  'error',
  'use-path-not-relative',
  'A path that is not the same everywhere',
  'The path of a `use` is relative to the folder of its file and means the same on every system: no drive, no machine, no address, and no name that one system takes for something else.',
);
export const tooMany = rule(
  'project',
  'error',
  'too-many',
  'More than the tool takes on',
  'There are more units, shelves, parts, files or findings than any building needs. What is beyond the limit is left out until there are fewer: mostly a count has a digit too many.',
);
export const argumentMissing = rule(
  'project',
  'error',
  'argument-missing',
  'A parameter is not given',
  'The template asks for something of each unit, without a default, and this unit does not give it. Write it in the unit, or give the parameter a default in the template.',
  undefined,
  'thing',
);
export const argumentOutOfRange = rule(
  'project',
  'error',
  'argument-out-of-range',
  'A value is out of its range',
  'The template says the range in which it was made to work. This value is outside of it. Give one within the range, or look whether the template holds in a wider one and change the range there.',
  'least <= value <= most',
);
export const surveyOfMany = rule(
  'project',
  'error',
  'survey-of-many',
  'A survey of several units',
  'A survey is what was measured in one unit. This unit has a count, so it stands for several. Write the measured one as a unit of its own.',
);
export const acceptUnmatched = rule(
  'project',
  'warning',
  'accept-matches-nothing',
  'An agreement that matches nothing',
  'An `accept` agrees to a finding that is not there (any more). Remove it, so that it does not hide the next one.',
);

// Chains
export const widthsConflict = rule(
  'chains',
  'error',
  'widths-do-not-close',
  'Widths along a wall cannot all hold',
  'The statements named cannot hold together; leave out or change any one of them and the rest can. No statement that does not matter is named.',
  'sum of least widths <= length of the wall',
  'widths',
);
export const surveyNarrower = rule(
  'chains',
  'error',
  'survey-narrower-than-layout',
  'The wall measured is too short for the layout',
  'The layout closes on the length drawn, but not on the length measured. The statements named cannot hold together with the survey. Make something narrower in this unit, or give the zone that is to give way a range or `fill`.',
  'sum of least widths <= measured length of the wall',
  'widths',
);
export const heightsConflict = rule(
  'chains',
  'error',
  'heights-do-not-close',
  'Heights in a zone cannot all hold',
  'The statements named cannot hold together; leave out or change any one of them and the rest can.',
  'each height between floor and ceiling, as far from the others as said',
  'heights',
);
export const cornerNotThere = rule(
  'chains',
  'error',
  'corner-not-there',
  'A corner of walls that do not meet',
  'A corner is where the right end of one wall meets the left end of another: left and back, back and right, right and front, front and left; or each wall of a polygonal room and the one written after it.',
);
export const roomDoesNotClose = rule(
  'chains',
  'warning',
  'room-does-not-close',
  'The walls of a room do not come back to where they began',
  'All walls of a polygonal room are drawn, and with their lengths and the angles by which they turn, the last one does not end where the first begins. A length or an angle is wrong, or was measured wrong.',
  undefined,
  'declaration',
);
export const leftOver = rule(
  'chains',
  'note',
  'width-left-over',
  'Width is left over',
  'The zones of the wall do not fill it, and no zone takes what is left. A `gap` says that it is meant, `width fill` gives it to a zone.',
  'length of the wall - sum of widths',
  'widths',
);
export const widthLoose = rule(
  'chains',
  'note',
  'width-loose',
  'A width is not settled',
  'The statements leave the width a range. Parts are made for the least width; say a width, or `fill`, to settle it.',
  undefined,
  'widths',
);
export const heightLoose = rule(
  'chains',
  'note',
  'height-loose',
  'A height is not settled',
  'The statements leave the height a range. The lowest height is taken; say a height to settle it.',
  undefined,
  'heights',
);
export const undecided = rule(
  'chains',
  'error',
  'width-undecided',
  'Two zones take what is left',
  'Two zones of one chain say `fill`, and nothing says how they share: write `width share` on both for equal shares, or give one a width. Or two chains that end where the other begins both take what is left: give a zone of one of them a width, or make them one chain.',
  undefined,
  'widths',
);
export const heightMissing = rule(
  'chains',
  'error',
  'height-missing',
  'A height is missing',
  'Nothing says how high this fitting is. Write `at 84in`, or `under` or `above` another fitting.',
  undefined,
  'thing',
);
export const widthMissing = rule(
  'chains',
  'error',
  'width-missing',
  'A width is missing',
  'Nothing says how wide this is. Write `width 48in`, a range, `fill` or `share`.',
  undefined,
  'thing',
);
export const wallLengthMissing = rule(
  'chains',
  'error',
  'wall-length-missing',
  'A wall has no length',
  'The zones of this wall cannot be placed, and nothing on it can be cut, before its length is known.',
  undefined,
  'thing',
);

// Parts
export const materialMissing = rule(
  'parts',
  'error',
  'material-missing',
  'No board or rod is said',
  'Nothing says what this part is cut from: not the part, not its zone, not the template. Name one in any of them: `board white-12` or `pole chrome`.',
  undefined,
  'thing',
);
export const thicknessMissing = rule(
  'parts',
  'error',
  'thickness-missing',
  'A board has no thickness',
  'The board says no thickness, and panels take theirs off the shelves between them. Say it in the board: `thickness 3/4in`.',
  undefined,
  'thing',
);
export const countOpen = rule(
  'parts',
  'error',
  'count-open',
  'A range of lengths, and no count up to which',
  'Parts that may take any length in a range are cut from what is left of the boards in the plan, as many as find room. Write how many would be of use, `count up to 6`, or give them one length.',
  undefined,
  'thing',
);
export const noRoom = rule(
  'parts',
  'error',
  'no-room-for-part',
  'No room for a part',
  'What is taken off its clear opening is more than the opening: nothing is left to cut. Make the opening wider, or take the part out.',
  'clear opening > what the ends take',
  'anything',
);

export const modelRules: readonly Rule[] = all;
