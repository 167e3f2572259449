// The shapes that screens read, as the show's definition and the views have them. Types alone.

/**
 * One entry in a view.
 * @typedef {{ name: string, by: string, for?: string | null, witness?: string | null, at: string, kind: string,
 *   body: any, key: string }} V
 * @typedef {{ id: string, label: string, done: boolean }} Choice
 * @typedef {{ id: string, subject: string, asks: "tick"|"count"|"reading"|"choice"|"photo"|"remark", roles: string[],
 *   after: string[], hazard: boolean, minutes: number | null, ended_by: string[], about: string[],
 *   items?: Record<string, string>, do: string, done: string, caution: string, second: null | "sees" | "other-end",
 *   unit: string | null, low: string | null, high: string | null, limit_of: string, choices?: Choice[],
 *   assess: null | { name: string, from: Record<string, string> }, names?: Record<string, string> }} Step
 * @typedef {{ id: string, stage: string, title: string, signed_by: string[], statement: string, steps: Step[] }} Sheet
 * @typedef {{ item: string, listed: string, state: string, values: V[] }} ItemView
 * @typedef {{ subject: string, state: "none"|"settled"|"disputed"|"waits", done: boolean, ended: boolean,
 *   until: string | null, stale: boolean, gate: "open"|"shut"|"unseen", waits_for: string[], unseen: string[],
 *   values: V[], readings: V[], evidence: V[], faults: V[], struck: V[], marks: Record<string, string[]>,
 *   items: ItemView[] }} StepView
 * @typedef {V & { changed: boolean, subjects: string[] }} SignatureView
 * @typedef {{ id: string, title: string, stage: string, done: number, total: number, steps: StepView[],
 *   signatures: SignatureView[] }} SheetView
 * @typedef {{ tag: string, number: string }} Held
 * @typedef {{ id: string, vehicle: string, name: string, side: "left"|"right"|"rear", row: number, place: number,
 *   width: string, holds: Held[], about?: Record<string, string> }} Locker
 * @typedef {{ listed: number, counted: number, short: string[], done: number, total: number, signed: boolean }} LockerStage
 * @typedef {{ id: string, holds: { tag: string, number: string, place: V | null, state: string | null }[],
 *   stages: Record<string, LockerStage>, strangers: { tag: string, home: string }[], events: V[] }} LockerView
 * @typedef {{ state: string, tag?: string | null, tags?: string[], values: V[] }} SlotView
 * @typedef {{ id: string, chain: Record<string, SlotView>, given_up: V | null,
 *   sheets: { id: string, stage: string, done: number, total: number, signed: boolean, changed: boolean }[],
 *   gear: { state: string, tags?: string[], values: V[] }, faults: V[], events: V[] }} PositionView
 * @typedef {{ tag: string, state: string | null, state_values: V[], place: V | null, faults: V[], tests: V[],
 *   carried: { log: string, values: V[], faults: V[], tests: V[] }[] }} KitView
 * @typedef {{ id: string, name: string, camera: string, height_m: string, distance_m: string, way_up: string,
 *   chain: { lens: string | null, body: string | null, run: string[], control: string | null },
 *   tower: string | null }} Position
 * @typedef {{ tag: string, name: string, type: string, number: string, mass_kg: string | null, home: string,
 *   dates: Record<string, string>, about: Record<string, string> }} Kit
 * @typedef {{ person: string, name: string, roles: string[] }} Person
 * @typedef {{ title: string, site: string, zone: string, starts: string, ends: string, unit: { id: string, name: string },
 *   positions: Position[], vehicles: { id: string, name: string, drawn: string, about?: Record<string, string> }[], lockers: Locker[], kit: Kit[],
 *   people: Person[], intervals?: import("../kit/due.js").Interval[], events: { id: string, label: string, ends: string }[], reasons: Record<string, string[]>,
 *   sheets: string[] }} Definition
 * @typedef {{ tag: string, locker: string, listed: string, counted: string | null, where: string | null, last: V | null }} Gap
 */

export {};
