// Every screen, by the first word of its address: `#/sheet/position/2/rig` is `sheet` with the rest as its `rest`.

import { AcceptScreen } from "./accept.js";
import { AcceptReportScreen } from "./accept-report.js";
import { AmendScreen } from "./amend.js";
import { ChainScreen } from "./chain.js";
import { CountScreen } from "./count.js";
import { CrewScreen } from "./crew.js";
import { EventScreen } from "./event.js";
import { FaultScreen } from "./fault.js";
import { GivenUpScreen } from "./given-up.js";
import { HandInScreen } from "./hand-in.js";
import { HandOverScreen } from "./hand-over.js";
import { JoinScreen } from "./join.js";
import { KitScreen } from "./kit.js";
import { LockerScreen } from "./locker.js";
import { MakeShowScreen } from "./make-show.js";
import { PeopleScreen } from "./people.js";
import { PhotoScreen } from "./photo.js";
import { PositionScreen } from "./position.js";
import { PositionsScreen } from "./positions.js";
import { ReadingScreen } from "./reading.js";
import { RemarkScreen } from "./remark.js";
import { SettingsScreen } from "./settings.js";
import { SettleScreen } from "./settle.js";
import { SheetScreen } from "./sheet.js";
import { ShowsScreen } from "./shows.js";
import { SignScreen } from "./sign.js";
import { StagesScreen } from "./stages.js";
import { StepScreen } from "./step.js";
import { UnsentScreen } from "./unsent.js";
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
  { path: "accept", screen: AcceptScreen },
  { path: "accept-report", screen: AcceptReportScreen },
  { path: "amend", screen: AmendScreen },
  { path: "chain", screen: ChainScreen },
  { path: "crew", screen: CrewScreen },
  { path: "hand-over", screen: HandOverScreen },
  { path: "kit", screen: KitScreen },
  { path: "locker", screen: LockerScreen },
  { path: "make-show", screen: MakeShowScreen },
  { path: "people", screen: PeopleScreen },
  { path: "settings", screen: SettingsScreen },
  { path: "shows", screen: ShowsScreen },
  { path: "unsent", screen: UnsentScreen },
  { path: "k", screen: KitScreen },
  { path: "join", screen: JoinScreen },
  { path: "hand-in", screen: HandInScreen },
];
