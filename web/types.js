// Shapes of what the bench answers (shell/bench/page_api.h); types only.

/**
 * @typedef {{code: string, text: string, part?: string, lead?: string, hole?: string, found?: string, expected?: string,
 *   pointer?: string, line?: number, column?: number}} BenchError
 * @typedef {{name: string, hole: string, net: number, current: ?number, voltage: ?number}} Lead
 * @typedef {{key: string, unit: string, use: 'value'|'momentary'|'position', number: number, text: string, minimum: number,
 *   maximum: number, series: number, options?: string[]}} Value
 * @typedef {{state: string, current: ?number, voltage: ?number, power: ?number, brightness: number, currentText: ?string,
 *   voltageText: ?string, powerText: ?string, shownText?: ?string, charge?: number, runTime?: ?number}} Reading
 * @typedef {{name: string, kind: string, group: string, seat: 'flexible'|'rigid'|'mat', turn: number, wire: boolean,
 *   supply: boolean, label: string, leads: Lead[], values: Value[], bands?: string[], code?: string, reading: Reading}} Part
 * @typedef {{edit: string, part?: string, name?: string, edits?: Step[]}} Step
 * @typedef {{ok: true, title: string, spared: boolean, spread: boolean, time: number, atRest: boolean, revision: {board: number, readings: number},
 *   hidden: boolean, hunt: {what: string, text: string}[],
 *   breadboards: {layout: string, splitRails: boolean, cracked: string[]}[], undo: ?Step, redo: ?Step, parts: Part[],
 *   nets: [number, number][][], selected: string, selection: string[], searching: boolean, hill: boolean, cursor?: string,
 *   message: {number: number, text: string}, problem?: BenchError}} Words
 * @typedef {{key: string, prefix: string, group: string, seat: 'flexible'|'rigid'|'mat', wire: boolean, reachMin: number,
 *   reachMax: ?number, leads: {name: string, dx: number, dy: number}[], values: Value[]}} Kind
 */

/**
 * @typedef {{id: string, kind: string, title: string, optional: boolean}} LessonStep
 * @typedef {{ask: string, unit: string, choices: {id: string, text: string}[], answer: string, right?: boolean, reply?: string, locked: boolean}} LessonQuestion
 * @typedef {{id: string, passed: boolean, fail?: string, case?: object[], parts?: string[], holes?: string[]}} LessonCheck
 * @typedef {{ok: true, about: {id: string, title: string, goal: string, minutes: number, cautions: string[], box: {kind: string, count: number}[],
 *   steps: LessonStep[]}, at: number, steps: {done: boolean, open: boolean}[],
 *   step: {id: string, kind: string, title: string, text: string, done: boolean, checks: string[], hints: number, question?: LessonQuestion},
 *   verdict: ?{passed: boolean, checks: LessonCheck[]}, current?: boolean, words?: {reason: string, case: string}[], hints: string[], touched: boolean, hintsLeft: boolean,
 *   help: 'outline'|'parts'|'goal', supplyAllowed: boolean, refusals: number, dark: string[], complete: boolean, progress: string}} LessonState
 */

export {};
