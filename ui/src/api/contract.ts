// What the page and the server say to each other: the types of the server's own description (schema.gen.ts, made by `npm run
// generate`), and the few that are the page's own. Texts and figures come ready to show, in the units asked for; plain
// numbers are for drawing only, in the unit named beside them. The page converts nothing.

import type { ScalesServer } from '../state/scalesshape';
import type { components } from './schema.gen';

type S = components['schemas'];

export type Units = S['TryRequest']['units'];
export type Verdict = S['Cell']['verdict'];
export type Corner = S['Strip']['corner'];
export type Tier = S['Cell']['tier'];
export type State = S['Cell']['state'];

export type Build = S['Build'];
export type Cell = S['Cell'];
export type Chart = S['Chart'];
export type Control = S['Control'];
export type CornerBuild = S['CornerBuild'];
export type CornerFrame = S['CornerFrame'];
export type CornerPoint = S['CornerPoint'];
export type CornerRequest = S['CornerRequest'];
export type Corners = S['Corners'];
export type Linkage = S['Linkage'];
export type LinkageRequest = S['LinkageRequest'];
export type StrutRequest = S['StrutRequest'];
export type Struts = S['Struts'];
export type StrutSlider = S['StrutSlider'];
export type Dampers = S['Dampers'];
export type DamperRequest = S['DamperRequest'];
export type DamperWheel = S['DamperWheel'];
export type DamperClick = S['DamperClick'];
export type DamperPresets = S['DamperPresets'];
export type DamperPreset = S['DamperPreset'];
export type DamperTarget = S['DamperTarget'];
export type DamperTargetRequest = S['DamperTargetRequest'];
export type DamperOrderRequest = S['DamperOrderRequest'];
export type DamperFile = S['DamperFile'];
export type Edit = S['Edit'];
export type Fault = S['Fault'];
export type Field = S['Field'];
export type Figure = S['Figure'];
export type TypicalCar = S['TypicalCar'];
export type Figures = S['Figures'];
export type Job = S['Job'];
export type JobLine = S['JobLine'];
export type JobList = S['JobList'];
export type Measuring = S['Measuring'];
export type MeasuringCard = S['MeasuringCard'];
export type MeasuringDrawing = S['MeasuringDrawing'];
export type MeasuringField = S['MeasuringField'];
export type Part = S['Part'];
export type Revision = S['RevisionLine'];
export type Ride = S['Ride'];
export type Row = S['Row'];
export type SaveRequest = S['SaveRequest'];
export type Session = S['Session'];
export type Strip = S['Strip'];
export type Trace = S['Trace'];
export type TryRequest = S['TryRequest'];
export type View = S['View'];
export type BuildPlan = S['BuildPlan'];
export type Working = S['Working'];
export type Preset = S['Preset'];
export type Draft = S['DraftBody'];
export type NewJob = S['CreateRequest'];
export type ConflictField = S['Disputed'];
export type Saved = S['Saved'];
export type Person = S['Person'];
export type Backups = S['Backups'];
export type PartRequest = S['PartRequest'];
export type PresetRequest = S['PresetRequest'];
export type KeepRequest = S['KeepRequest'];
export type SheetTree = S['Sheet'];
export type SheetRequest = S['SheetRequest'];
export type SheetSection = S['SheetSection'];
export type SheetPart = S['SheetPart'];
export type SheetPlan = S['SheetPlan'];
export type SheetStrips = S['SheetStrips'];
export type SheetStrip = S['SheetStrip'];
export type SheetCheck = S['SheetCheck'];
export type WorkshopView = S['WorkshopView'];
export type DueLine = S['DueLine'];
export type WorkshopRequest = S['WorkshopRequest'];
export type Support = S['Support'];
export type SupportCause = S['SupportCause'];
export type SupportRequest = S['SupportRequest'];
export type SymptomRows = S['SymptomRows'];
export type Records = S['Records'];
export type NearestJobs = S['NearestJobs'];
export type NoteRequest = S['NoteRequest'];
export type NoteShown = S['NoteShown'];
export type History = S['History'];
export type HistoryEntry = S['HistoryEntry'];
export type HistoryLine = S['HistoryLine'];
export type WayRequest = S['WayRequest'];
export type WayBack = S['WayBack'];
export type RemeasureRequest = S['RemeasureRequest'];
export type Remeasured = S['Remeasured'];

/** What a save that came too late is answered with: both versions, and the fields in which they differ. */
export interface Conflict {
  theirs: S['Version'];
  fields: ConflictField[];
}

/** What the page needs of a server; the real one speaks HTTP, the one of the components page answers from memory. */
export interface Server {
  session(): Promise<Session>;
  login(passphrase: string, person: string): Promise<Session>;
  logout(): Promise<void>;
  jobs(search: string): Promise<JobList>;
  create(job: NewJob): Promise<Job>;
  job(id: string): Promise<Job>;
  save(id: string, revision: number, request: SaveRequest): Promise<Job>;
  revisions(id: string): Promise<Revision[]>;
  revision(id: string, revision: number): Promise<string>;
  keepDraft(id: string, draft: Draft): Promise<void>;
  dropDraft(id: string): Promise<void>;
  attempt(request: TryRequest, signal?: AbortSignal): Promise<View>;
  plan(key: string, build: string, units: Units): Promise<BuildPlan>;
  working(key: string, valueId: string, units: Units): Promise<Working>;
  measuring(units: Units): Promise<Measuring>;
  trace(key: string, build: string): Promise<Trace>;
  corner(request: CornerRequest, signal?: AbortSignal): Promise<Corners>;
  struts(request: StrutRequest): Promise<Struts>;
  linkage(request: LinkageRequest): Promise<Linkage>;
  dampers(request: DamperRequest): Promise<Dampers>;
  damperPresets(request: DamperRequest): Promise<DamperPresets>;
  damperTarget(request: DamperTargetRequest): Promise<DamperTarget>;
  damperOrder(request: DamperOrderRequest): Promise<DamperFile>;
  catalogue(kind: string, search: string): Promise<Part[]>;
  presets(): Promise<Preset[]>;
  allParts(search: string): Promise<Part[]>;
  savePart(part: PartRequest): Promise<Part>;
  savePreset(preset: PresetRequest): Promise<Preset>;
  keepPart(request: KeepRequest): Promise<Part>;
  keepPreset(request: KeepRequest): Promise<Preset>;
  sheet(request: SheetRequest): Promise<SheetTree>;
  workshop(): Promise<WorkshopView>;
  due(): Promise<DueLine[]>;
  saveWorkshop(request: WorkshopRequest): Promise<WorkshopView>;
  symptoms(): Promise<SymptomRows>;
  support(request: SupportRequest): Promise<Support>;
  records(id: string): Promise<Records>;
  nearest(id: string, units: Units): Promise<NearestJobs>;
  addNote(id: string, note: NoteRequest): Promise<NoteShown>;
  history(id: string): Promise<History>;
  way(id: string, request: WayRequest): Promise<WayBack>;
  remeasure(id: string, request: RemeasureRequest): Promise<Remeasured>;
  people(): Promise<Person[]>;
  backups(): Promise<Backups>;
  backUp(): Promise<Backups>;
  typical(): Promise<TypicalCar[]>;
  savePerson(person: { name: string; role: Person['role']; passphrase?: string; barred?: boolean }): Promise<Person>;
  scales: ScalesServer['scales'];
  keepRound: ScalesServer['keepRound'];
  withdrawRound: ScalesServer['withdrawRound'];
  readScales: ScalesServer['readScales'];
  lift: ScalesServer['lift'];
  events(on: {
    saved?: (saved: { job: string; revision: number; who: string }) => void;
    round?: (round: { job: string; build: string }) => void;
  }): () => void;
  fileAddress(id: string): string;
}
