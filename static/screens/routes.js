// Every screen, by the first word of its address: `#/sheet/position/2/rig` is `sheet` with the rest as its `rest`.
import { CountScreen } from "./count.js";
import { EventScreen } from "./event.js";
import { FaultScreen } from "./fault.js";
import { GivenUpScreen } from "./given-up.js";
import { HandInScreen } from "./hand-in.js";
import { JoinScreen } from "./join.js";
import { PhotoScreen } from "./photo.js";
import { PositionScreen } from "./position.js";
import { PositionsScreen } from "./positions.js";
import { ReadingScreen } from "./reading.js";
import { RemarkScreen } from "./remark.js";
import { SettleScreen } from "./settle.js";
import { SheetScreen } from "./sheet.js";
import { SignScreen } from "./sign.js";
import { StagesScreen } from "./stages.js";
import { StepScreen } from "./step.js";
import { VanScreen } from "./van.js";

/** @type {{path: string, screen: (props: {rest: string}) => any}[]} */
export const routes = [
  { path: "", screen: StagesScreen },
  { path: "van", screen: VanScreen },
  { path: "positions", screen: PositionsScreen },
  { path: "position", screen: PositionScreen },
  { path: "sheet", screen: SheetScreen },
  { path: "step", screen: StepScreen },
  { path: "count", screen: CountScreen },
  { path: "reading", screen: ReadingScreen },
  { path: "photo", screen: PhotoScreen },
  { path: "remark", screen: RemarkScreen },
  { path: "settle", screen: SettleScreen },
  { path: "sign", screen: SignScreen },
  { path: "event", screen: EventScreen },
  { path: "fault", screen: FaultScreen },
  { path: "given-up", screen: GivenUpScreen },
  { path: "join", screen: JoinScreen },
  { path: "hand-in", screen: HandInScreen },
];
