/** Reads a unit from standard input and prints what each of its vehicles carries, as the phone makes it. */

import { readFileSync } from "node:fs";
import { inputsOf, loadOf } from "../../static/kit/loading.js";

const unit = JSON.parse(readFileSync(0, "utf8"));
const loads = unit.vehicles.map(({ id }) => loadOf(unit, id));
console.log(JSON.stringify(loads.map((load) => ({ inputs: inputsOf(load), untold: load.untold }))));
