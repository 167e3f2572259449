// Every screen, by the first word of its address: `#/sheet/position/2/rig` is `sheet` with the rest as its `rest`.
import { HandInScreen } from "./hand-in.js";
import { JoinScreen } from "./join.js";

/** @type {{path: string, screen: (props: {rest: string}) => any}[]} */
export const routes = [
  { path: "join", screen: JoinScreen },
  { path: "hand-in", screen: HandInScreen },
];
