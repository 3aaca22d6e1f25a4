// Made from server/openapi.json by `go generate ./web`. Do not edit.

export interface Acceptance {
  plan: ArrangementAsked;
  revision: number;
  spreads: number[];
}

export interface Account {
  channels: Sum[];
  countries: Sum[];
  kinds: Sum[];
  lacking: string[];
  rows: Row[];
  sold: number;
  total: Sum;
}

export interface Addressee {
  company: string;
  country: string;
  email: string;
  lines: string[];
  name: string;
  phone: string;
  postcode: string;
  region: string;
  town: string;
}

export interface Amendment {
  name?: string;
  weights?: Record<string, number>;
}

export interface ApartAsked {
  apart: boolean;
  pair: [number, number];
}

export interface ApartList {
  pairs: ([number, number])[];
}

export interface ArrangementAsked {
  chapters?: boolean;
  enough?: number;
  first?: number;
  last?: number;
  ordering?: "" | "day" | "place" | "colour" | "light";
  refused?: ([number, number])[];
  scope: "table" | "wall";
  singles?: boolean;
  weights?: Record<string, number>;
}

export interface Arriving {
  height: number;
  name: string;
  place: number;
  sketch: boolean;
  width: number;
}

export interface ArrivingEvent {
  bring: number;
  photos: Arriving[];
}

export interface AsideAsked {
  line: string;
  name: string;
  revision: number;
  sequence: Sequence;
  why?: string;
}

export interface Ask {
  copies: number;
  order: number;
  to: string;
}

export interface Asking {
  answer: string;
  answered: string;
  day: string;
  letter: string;
}

export interface BackTold {
  kind: "specification" | "printer" | "quote" | "terms" | "price";
  number: number;
}

export interface Bad {
  line: number;
  number: string;
  why: string;
}

export interface BesidePage {
  page: number;
  words: string[];
}

export interface Book {
  format: Format;
  pages: BookPage[];
}

export interface BookAsked {
  format: Format;
  plan: Plan;
}

export interface BookPage {
  caption?: Rect;
  folio?: Rect;
  leaf?: Leaf;
  number: number;
  on?: Page;
  shown?: Shown;
  words?: Rect;
  writings?: Writing[];
}

export interface BookShown {
  book: Book;
  lines: TextLine[][];
  misfits: Misfit[];
}

export interface BorrowingAsked {
  fit?: boolean;
  from: "tracks" | "phone";
  gap?: string;
  offset?: string;
  photos?: number[];
}

export interface BreakEven {
  below: number;
  copies: number;
  from: number;
}

export interface Bring {
  ended?: string;
  found: number;
  id: number;
  known: number;
  read: number;
  refused: number;
  sources: string[];
  started: string;
  state: "running" | "done" | "cancelled" | "failed" | "broken off";
  title: number;
  words: string;
}

export interface BringEvent {
  bring: Bring;
  name: string;
}

export interface BringFrom {
  folders: string[];
}

export interface Case {
  board: number;
  joint: number;
  square: number;
  turnIn: number;
}

export interface Cashbook {
  entered: Entered[];
  fees: ChannelFee[];
  in: string;
  rates: Rate[];
}

export interface CashbookSaid {
  book: Cashbook;
  revision: number;
}

export interface Cell {
  deltaE: number;
  patches: number;
  shift: LabD50;
}

export interface Change {
  act: string;
  revision: number;
  says?: Statement[];
  steps: Step[];
}

export interface Changed {
  entry: Entry;
  labels?: Record<string, string>;
  wall: Wall;
}

export interface Channel {
  discount: string;
  fee: string;
  feeEach?: Money;
  name: string;
  share: number;
}

export interface ChannelFee {
  channel: string;
  each: Money;
  percent: string;
}

export interface ChannelLeft {
  after?: Money;
  discount?: Money;
  even: number;
  fees?: Money;
  floor?: Money;
  leaves?: Money;
  name: string;
  net?: Money;
  perCopy?: Money;
  received?: Money;
  within: boolean;
}

export interface Chapter {
  id: number;
  name: string;
}

export interface Charge {
  amount?: Money;
  included: boolean;
  per: number;
}

export interface Checked {
  found: Misfit[];
  inks: string;
  pages: number;
  pictures: number;
}

export interface Choice {
  class: "letter" | "small packet" | "printed matter" | "parcel";
  doubt: string;
  price: Money;
  refused: Refused[];
  service: string;
  tracked: boolean;
  upTo: number;
  why: string;
  zone: string;
}

export interface Clock {
  camera: string;
  lends: number;
  offset: string;
  sure: boolean;
  used: number;
  words: string;
}

export interface Colours {
  back: number;
  front: number;
}

export interface Company {
  partners: number[];
  photo: number;
}

export interface Comparison {
  diff: Diff;
  earlier: Sequence;
  later: Sequence;
  words: string;
}

export interface ComparisonAsked {
  earlier: Side;
  later: Side;
}

export interface Content {
  count: number;
  mass: number;
  name: string;
}

export interface Copied {
  computed: number;
  doubts: string[];
  least: number;
  mass: number;
  most: number;
  parts: Part[];
  size: Size;
  spine: number;
  thickness: number;
}

export interface Copy {
  for: "sale" | "deposit" | "friend" | "press" | "shop" | "maker";
  mark: string;
  note: string;
  number: number;
  order?: number;
  place: "here" | "shop" | "sold" | "given" | "damaged";
  series: "edition" | "proof" | "outside";
  shop: string;
}

export interface CopyRef {
  number: number;
  series: "edition" | "proof" | "outside";
}

export interface CostAt {
  copies: number;
  cost: Money;
}

export interface CostFit {
  method: string;
  off: Money;
  points: CostAt[];
  runOn: UnitPrice;
  setUp: Money;
}

export interface CostItem {
  amount?: Money;
  name: string;
  state: "amount" | "included" | "missing" | "not asked";
}

export interface CountryList {
  countries: Named[];
  currencies: CurrencyShown[];
}

export interface CoverBrought {
  bytes: number;
  fonts: number;
  name: string;
  objections: Objection[];
  pages: number;
  pictures: number;
  shown: boolean;
  standard: string;
}

export interface CoverLine {
  reads: "across" | "descending" | "ascending";
  size: number;
  text: string;
  wide: number;
  x: number;
  y: number;
}

export interface CoverPlan {
  barcode: boolean;
  case: Case;
  hinge: number;
  own: OwnCover;
  spine: number;
}

export interface CoverShown {
  binding: "" | "saddle-stitch" | "perfect-bound" | "hard-case";
  brief: string;
  brought?: CoverBrought;
  closed: Size;
  doubts: string[];
  flat: FlatCover;
  format: string;
  lines: CoverLine[];
  own: OwnLaid;
  pages: number;
  plan: CoverPlan;
  revision: number;
  rule: string;
  spine: CoverSpine;
  unit: "mm" | "in";
  view: number;
}

export interface CoverSpine {
  computed: number;
  least: number;
  most: number;
  printers: boolean;
  width: number;
}

export interface CoverWanted {
  plan: CoverPlan;
  revision: number;
}

export interface CreepTold {
  amount: number;
  name: string;
  words: string;
}

export interface Crop {
  middle: Point;
  zoom: number;
}

export interface CurrencyShown {
  code: string;
  decimals: number;
}

export interface Declaration {
  category: "sale of goods" | "gift" | "documents" | "other";
  caution: string;
  doubts: string[];
  form: "" | "CN 22" | "CN 23";
  items: Item[];
  mass: number;
  need: Need;
  rate?: SDRRate;
  sdr: string;
  value: Money;
}

export interface DeclarationList {
  declarations: Declaration[];
  trouble: string;
}

export interface Diff {
  begun?: Chapter[];
  broken: ([number, number])[];
  come: number[];
  ended?: Chapter[];
  gone: number[];
  kept: ([number, number])[];
  lifted: Lift[];
  moved: number;
  new: ([number, number])[];
  noted?: number;
  renamed?: Chapter[];
  reshaped?: Chapter[];
  tau?: number;
  turned: ([number, number])[];
}

export interface Difference {
  after: Copied;
  before: Copied;
  effects: Effect[];
  stuck: number;
  total: Money;
  words: string;
}

export interface Done {
  at: string;
  copies: CopyRef[];
  id: number;
  marks: string[];
  mass: number;
  name: string;
  number: string;
  order: number;
  postage: Money;
  service: string;
  tracking: string;
}

export interface Doubt {
  field: string;
  stops: boolean;
  words: string;
}

export interface Edition {
  boards: Paper;
  goods: "book" | "pictures";
  marked: boolean;
  origin: string;
  outside: number;
  pages: number;
  price: Money;
  proofs: number;
  signed: boolean;
  size: number;
  weighed: number;
}

export interface EditionSaid {
  edition: Edition;
  revision: number;
}

export interface EditionShown {
  copied: Copied;
  copies: Copy[];
  edition: Edition;
  pages: number;
  revision: number;
  tally: Tally;
}

export interface Effect {
  after: Money;
  before: Money;
  copies: number;
  orders: number;
  words: string;
  zone: string;
}

export interface Entered {
  amount: Money;
  channel: string;
  day: string;
  kind: "copies" | "carriage" | "printing" | "packing" | "postage" | "fees" | "other";
  words: string;
}

export interface Entry {
  at: string;
  change: Change;
  from: string;
  of?: number;
  redoNext: number;
  revision: number;
  undoNext: number;
  way: "act" | "undo" | "redo";
}

export interface Erased {
  backups: number;
  kept: string[];
  leftOver: string[];
  orders: number;
  settled: boolean;
}

export interface Erasing {
  days: number;
}

export interface Evidence {
  kind: "place" | "time" | "colour" | "feeling" | "form" | "distance" | "town" | "stretch" | "gap" | "sitting" | "day" | "hour" | "light" | "world" | "accent" | "opposites" | "tone" | "mixed" | "words" | "mood" | "contrast" | "shape" | "lines" | "lead" | "reach" | "focus" | "gaze";
  known: boolean;
  measure?: number;
  relations?: Related[];
  score: number;
  tells: boolean;
  unit: string;
  words: string;
}

export interface Facing {
  across?: boolean;
  left?: number;
  right?: number;
}

export interface Fault {
  code: "invalid" | "not-found" | "stale" | "conflict" | "damaged" | "unsupported" | "too-large" | "unreadable" | "cancelled" | "internal" | "not-allowed" | "elsewhere" | "wrong-media";
  hint: string;
  message: string;
}

export interface Fee {
  amount: Money;
  name: string;
}

export interface FilesWish {
  kind: string;
  profile: string;
}

export interface Finding {
  code: "invalid" | "not-found" | "stale" | "conflict" | "damaged" | "unsupported" | "too-large" | "unreadable" | "cancelled" | "internal" | "not-allowed" | "elsewhere" | "wrong-media";
  hint?: string;
  words: string;
}

export interface FindingShown {
  beside?: BesidePage;
  finding: Measurement;
  name: string;
  number: number;
  page: number;
  since?: SinceRound;
  words: Words;
}

export interface FlatCover {
  back: Rect;
  barcode?: Rect;
  binding: "" | "saddle-stitch" | "perfect-bound" | "hard-case";
  bleed: number;
  front: Rect;
  inner: Guide[];
  outer: Guide[];
  spine: Rect;
  trim: Size;
}

export interface Folder {
  name: string;
  path: string;
  pictures: number;
}

export interface FolderListing {
  folders: Folder[];
  parent: string;
  path: string;
  pictures: number;
  starts: NamedFolder[];
}

export interface Form {
  depth: number;
  detail: number;
  fingerprint: string;
  horizon: number;
  horizonLeft: number;
  horizonRight: number;
  lines: [number, number, number, number];
  measured: number;
  sharpness: number;
  weightX: number;
  weightY: number;
}

export interface Format {
  binding: "" | "saddle-stitch" | "perfect-bound" | "hard-case";
  bleed: number;
  cover: Paper;
  margins: Margins;
  safe: number;
  swallow: number;
  text: Paper;
  trim: Size;
  unit: "mm" | "in";
}

export interface FormatList {
  first: Format;
  hides: number;
  inner: number;
  sizes: TrimSize[];
}

export interface Gaze {
  towards: string;
  x: number;
  y: number;
}

export interface Guide {
  at: Rect;
  mark: "bleed" | "trim" | "edge" | "back" | "spine" | "front" | "safe" | "fold" | "hinge" | "barcode" | "free";
  name: string;
}

export interface HandLabel {
  name: string;
  number: string;
  order: number;
  why: string[];
}

export interface Hanging {
  closing?: number;
  opening?: number;
  spreads: Facing[];
}

export interface HangingAsked {
  text: string;
}

export interface HangingRead {
  change?: Change;
  come: number[];
  gone: number[];
  hanging: Hanging;
  sequence?: Sequence;
  slips: Slip[];
  text: string;
  unboxed: number[];
  words: string;
}

export interface Held {
  behind: number[];
  days: number;
  left: number;
  pair: [number, number];
  since: string;
  sittings: number;
  times: number;
  until?: string;
}

export interface HeldUp {
  name: string;
  number: string;
  order: number;
  why: string;
}

export interface HungList {
  photos: number[];
}

export interface InkLimit {
  inkLimit: number;
}

export interface InquiryAct {
  did: string;
  kind: "specification" | "printer" | "quote" | "terms" | "price";
  number: number;
}

export interface InquiryShown {
  comparison: SideBySide;
  currencies: CurrencyShown[];
  price: PriceShown;
  printers: PrinterShown[];
  quotes: QuoteShown[];
  redo?: InquiryAct;
  specification: SpecificationShown;
  takenOut: TakenOut[];
  terms: TermsShown;
  today: string;
  undo?: InquiryAct;
}

export interface Item {
  hs: string;
  mass: number;
  origin: string;
  quantity: number;
  value: Money;
  words: string;
}

export interface KeptAside {
  changed: Changed;
  version: Version;
}

export interface Lab {
  a: number;
  b: number;
  l: number;
}

export interface LabD50 {
  a: number;
  b: number;
  l: number;
}

export interface LabelPlan {
  byHand: HandLabel[];
  customs: number;
  doubt: string;
  labels: number;
  next: number;
  presets: LabelSheet[];
  sheets: number;
}

export interface LabelSheet {
  across: number;
  down: number;
  gapX: number;
  gapY: number;
  label: Size;
  left: number;
  name: string;
  sheet: Size;
  top: number;
}

export interface LabelStyle {
  first: number;
  foot: boolean;
  sender: boolean;
  sheet: LabelSheet;
  shift: Shift;
}

export interface LaidLeaf {
  kind: "blank" | "title" | "text" | "colophon";
  on: Page;
  text?: string;
}

export interface Landed {
  basis: "quoted" | "run-on" | "between" | "beyond" | "";
  complete: boolean;
  doubts: string[];
  good: number;
  home?: Money;
  items: CostItem[];
  most?: Money;
  ordered: number;
  tax?: Money;
  total?: Money;
  unit?: Money;
}

export interface Leaf {
  kind: "blank" | "title" | "text" | "colophon";
  text?: string;
}

export interface LeftOver {
  photo: number;
  why: string;
}

export interface Lift {
  chapter?: string;
  photos: number[];
  to: "front" | "earlier" | "later" | "end";
}

export interface Limit {
  class: "letter" | "small packet" | "printed matter" | "parcel";
  day: string;
  from: string;
  heaviest: number;
  inland: boolean;
  longFace: number;
  longest: number;
  shortFace: number;
  source: string;
  sum: number;
  thickest: number;
}

export interface Line {
  began: string;
  from: number;
  id: number;
  name: string;
  root: number;
}

export interface LineBegun {
  from?: number;
  name: string;
  present?: string;
  revision: number;
}

export interface LineList {
  lines: Line[];
}

export interface LineName {
  name: string;
}

export interface Loan {
  change: Change;
  clocks: Clock[];
  proposals: Offer[];
  without: Without[];
}

export interface Look {
  item: string;
  note: string;
  seen: string;
}

export interface LookIn {
  folder: string;
}

export interface Loss {
  only: Only[];
  photo: number;
  same: Same[];
}

export interface LossList {
  losses: Loss[];
}

export interface Lost {
  path: string;
  photo: number;
}

export interface Map {
  cells: Cell[];
  columns: number;
  rows: number;
}

export interface Margins {
  bottom: number;
  inner: number;
  outer: number;
  top: number;
}

export interface Material {
  deepest: number;
  each: number;
  inside: Size;
  kind: "mailer" | "board" | "card" | "sticker" | "sleeve";
  letter: boolean;
  mass: number;
  name: string;
  outside: Size;
  price: Money;
  wall: number;
}

export interface MeasuredWith {
  card?: Point;
  target: "" | "before2014" | "after2014";
}

export interface Measurement {
  bare: number;
  base: "target" | "card" | "paper" | "none";
  card?: Point;
  clipped: number;
  corners: Point[];
  like: number;
  map: Map;
  paper?: Tones;
  rest: number;
  uneven: number;
  zones: Tones[];
}

export interface Misfit {
  hint: string;
  kind: "missing" | "changed" | "torn" | "count" | "keep" | "resolution" | "damaged" | "words" | "letters" | "laid" | "gutter" | "cut" | "colours" | "ink" | "margin" | "spine" | "caption" | "fine" | "profile" | "doubt";
  page?: number;
  photo?: number;
  words: string;
}

export interface Money {
  currency: string;
  minor: number;
}

export interface MoneyShown {
  account: Account;
  book: Cashbook;
  revision: number;
}

export interface Move {
  copies: CopyRef[];
  for?: "sale" | "deposit" | "friend" | "press" | "shop" | "maker";
  note?: string;
  place?: "here" | "shop" | "sold" | "given" | "damaged";
  shop?: string;
}

export interface Named {
  code: string;
  name: string;
}

export interface NamedFolder {
  name: string;
  path: string;
}

export interface Need {
  doubt: string;
  needed: boolean;
  why: string;
}

export interface NewTitle {
  name: string;
}

export interface Objection {
  harm: "stops" | "ask" | "note";
  hint: string;
  why: string;
  words: string;
}

export interface Offer {
  at: string;
  photo: number;
  sure: string;
  where: Where;
  words: string;
}

export interface OnRevision {
  revision: number;
}

export interface Only {
  of: "place" | "time" | "colour" | "feeling" | "form" | "distance" | "town" | "stretch" | "gap" | "sitting" | "day" | "hour" | "light" | "world" | "accent" | "opposites" | "tone" | "mixed" | "words" | "mood" | "contrast" | "shape" | "lines" | "lead" | "reach" | "focus" | "gaze";
  words: string;
}

export interface Order {
  allotted: CopyRef[];
  channel: string;
  copies: number;
  day: string;
  erased: boolean;
  for: "sale" | "deposit" | "friend" | "press" | "shop" | "maker";
  id: number;
  list?: number;
  note: string;
  number: string;
  postage: Money;
  price: Money;
  revision: number;
  state: "open" | "sent" | "cancelled";
  to: Addressee;
  wish: string;
}

export interface OrderList {
  at: string;
  id: number;
  name: string;
  orders: number;
}

export interface OrderSaid {
  copies?: CopyRef[];
  order: Order;
  wait: boolean;
}

export interface OrderShown {
  doubts: Doubt[];
  label: string[];
  marks: string[];
  order: Order;
}

export interface OrderTable {
  encodings: string[];
  fields: ("number" | "day" | "name" | "first name" | "last name" | "company" | "address 1" | "address 2" | "address 3" | "postcode" | "town" | "region" | "country" | "email" | "phone" | "copies" | "item" | "price" | "postage" | "currency" | "wish" | "note")[];
  known: string[];
  matched: boolean;
  table: Table;
  took?: TakenIn;
}

export interface OrdersShown {
  lists: OrderList[];
  orders: OrderShown[];
}

export interface Originals {
  changed: Lost[];
  missing: Lost[];
}

export interface OutlayShown {
  lacks: string[];
  parcels: number;
  shipments: Shipment[];
  total: Money;
  trouble: number;
  zones: ZoneOutlay[];
}

export interface OwnCover {
  ascending: boolean;
  crop?: Crop;
  ground: string;
  lettering: string;
  manner: "full-bleed" | "framed" | "small";
  name: string;
  photo: number;
  title: string;
}

export interface OwnLaid {
  name: Rect;
  picture?: Shown;
  spine?: Rect;
  spineSize: number;
  title: Rect;
}

export interface OwnLine {
  name: string;
  words: string;
}

export interface Page {
  side: "left" | "right" | "opening" | "closing";
  spread?: number;
}

export interface Pages {
  format: Format;
  plan: Plan;
  redo: string;
  revision: number;
  undo: string;
}

export interface PagesEvent {
  pages: Pages;
}

export interface PagesWanted {
  act: string;
  format: Format;
  plan: Plan;
  revision: number;
}

export interface Paper {
  bulk: number;
  caliper: number;
  finish: string;
  grammage: number;
  name: string;
}

export interface PaperSeen {
  felt: string;
  instead: boolean;
  paper: Paper;
}

export interface Parcel {
  contents: Content[];
  copies: number;
  least: number;
  length: number;
  letter: boolean;
  mailer: string;
  mass: number;
  most: number;
  thickness: number;
  why: string;
  width: number;
}

export interface ParcelChanged {
  mass: string;
  postage: Money;
  service: string;
  tracking: string;
}

export interface ParcelSaid {
  copies: CopyRef[];
  mass: string;
  order: number;
  tracking: string;
}

export interface Part {
  mass: number;
  words: string;
}

export interface Partner {
  alike: boolean;
  evidence: Evidence[];
  judged: boolean;
  left: number;
  leftWhy: string;
  missing: string;
  photo: number;
  reasons: string;
  score: number;
  share: number;
  side: "left" | "right" | "opening" | "closing";
  surprise?: "place" | "time" | "colour" | "feeling" | "form" | "distance" | "town" | "stretch" | "gap" | "sitting" | "day" | "hour" | "light" | "world" | "accent" | "opposites" | "tone" | "mixed" | "words" | "mood" | "contrast" | "shape" | "lines" | "lead" | "reach" | "focus" | "gaze";
  warnings: string[];
}

export interface PartnerList {
  of: number;
  page?: Page;
  partners: Partner[];
  unjudged: number;
}

export interface PersonOrder {
  order: Order;
  title: string;
}

export interface PersonOrders {
  orders: PersonOrder[];
}

export interface Photo {
  bytes: number;
  came: string;
  camera: string;
  caption: string;
  feeling?: string[];
  findings?: Finding[];
  form: Form;
  format: string;
  frame: string;
  gaze?: Gaze;
  hash: string;
  height: number;
  label: string;
  name: string;
  note?: string;
  number: number;
  palette: Swatch[];
  path: string;
  profile: string;
  roll: string;
  scan: boolean;
  stamp: string;
  taken: When;
  tone: Tone;
  where?: Where;
  width: number;
}

export interface PhotoEvent {
  photo: Photo;
}

export interface Pile {
  photos: number[];
  words: string;
}

export interface PileList {
  piles: Pile[];
}

export interface Placement {
  apart?: number;
  caption?: boolean;
  crop?: Crop;
  keep?: Point;
  manner?: "full-bleed" | "framed" | "small";
  margins?: Margins;
  photo: number;
  share?: number;
}

export interface Plan {
  back: Leaf[];
  captions: boolean;
  edition: number;
  folios: boolean;
  front: Leaf[];
  laid: LaidLeaf[];
  manner: "full-bleed" | "framed" | "small";
  placements: Placement[];
}

export interface Point {
  x: number;
  y: number;
}

export interface Post {
  labels: LabelStyle;
  limits: Limit[];
  materials: Material[];
  rates: SDRRate[];
  sender: Addressee;
  tariff: Tariff;
  thanks: string;
  tracked: boolean;
}

export interface PostSaid {
  post: Post;
  revision: number;
}

export interface PostState {
  post: Post;
  revision: number;
}

export interface Posted {
  choice: Choice;
  parcel: Parcel;
}

export interface PressStyle {
  cards: boolean;
  convert: boolean;
  marks: boolean;
  most: number;
  screen: boolean;
}

export interface Price {
  class: "letter" | "small packet" | "printed matter" | "parcel";
  longest: number;
  price: Money;
  service: string;
  thickest: number;
  tracked: boolean;
  upTo: number;
  zone: string;
}

export interface PricePlan {
  channels: Channel[];
  cost?: Money;
  free: number;
  once: Fee[];
  perCopy: Fee[];
  price?: Money;
  quote: number;
  tax: string;
}

export interface PriceShown {
  act: number;
  is: PricePlan;
  reckoning?: Reckoning;
  sold: number[];
  trouble: string;
}

export interface PriceStep {
  amount: Money;
  copies: number;
  each: boolean;
}

export interface PriceTold {
  is: PricePlan;
  seen: number;
}

export interface Print {
  code: Rect;
  cut: Rect;
  foot: Rect;
  photo: number;
  picture: Rect;
}

export interface PrintPlan {
  prints: number;
  sheets: PrintSheet[];
  unprintable?: string;
}

export interface PrintSheet {
  height: number;
  prints: Print[];
  width: number;
}

export interface PrintTerms {
  blank: number;
  creeps: CreepTold[];
  folded: boolean;
  pages: number;
  profile: string;
  scales: ScaleTold[];
  unfit: Unfit[];
  unmet: string[];
}

export interface Printer {
  asked: Asking[];
  contact: string;
  name: string;
  note: string;
}

export interface PrinterProfile {
  inkLimit: number;
  name: string;
  origin: string;
}

export interface PrinterShown {
  act: number;
  is: Printer;
  letter: string;
  moved: boolean;
  number: number;
  proofs: ProofFrom[];
}

export interface PrinterTold {
  is: Printer;
  seen: number;
}

export interface PrintersProfile {
  profile?: PrinterProfile;
}

export interface PrintingList {
  printings: PrintingShown[];
}

export interface PrintingShown {
  bytes: number;
  done: number;
  hint?: string;
  id: number;
  kind: string;
  of: number;
  state: "running" | "done" | "cancelled" | "failed" | "broken off";
  unmet: string[];
  words: string;
}

export interface PrintingWish {
  creep: string;
  duplex: string;
  fit: boolean;
  kind: string;
  pages?: number[];
  press: PressStyle;
  sheet: string;
}

export interface Problem {
  error: Fault;
  pages?: Pages;
  wall?: Wall;
}

export interface Progress {
  map: Cell[];
  where: string;
  zones: ZoneChange[];
}

export interface ProofFrom {
  date: string;
  round: number;
  verdict: "" | "again" | "go" | "go with changes";
}

export interface ProofWish {
  digital: boolean;
  rounds: number;
  wet: boolean;
}

export interface ProofsShown {
  pages: number[];
  photos: number[];
  printers: string[];
  questions: Question[];
  rounds: RoundShown[];
  takenOut: number[];
  versions: Record<string, SinceNow>;
}

export interface Proposal {
  change: Change;
  left: LeftOver[];
  rule: string;
  sequence: Sequence;
  spreads: ProposedSpread[];
}

export interface ProposedSpread {
  alike: boolean;
  alone: boolean;
  evidence: Evidence[];
  judged: boolean;
  left: number;
  leftWhy: string;
  missing: string;
  reasons: string;
  score: number;
  share: number;
  spread: number;
  warnings: string[];
}

export interface PutBackCount {
  kept: number;
}

export interface Question {
  ask: string;
  how: string;
  name: string;
}

export interface Quote {
  currency: string;
  day: string;
  delivery?: Charge;
  differs: string;
  finishing?: Charge;
  notes: string;
  papers: PaperSeen[];
  printer: number;
  proof?: Charge;
  rate?: Rate;
  reference: string;
  runOn?: UnitPrice;
  setUp?: Money;
  steps: PriceStep[];
  tax?: Tax;
  tolerance?: Tolerance;
  valid?: number;
}

export interface QuoteRow {
  expires: string;
  fit?: CostFit;
  holding: "holds" | "expired" | "not said";
  landed: Landed[];
  leftOut: string[];
  printer: number;
  quote: number;
}

export interface QuoteShown {
  act: number;
  at: string;
  is: Quote;
  number: number;
}

export interface QuoteTold {
  is: Quote;
  seen: number;
}

export interface Rate {
  day: string;
  from: string;
  to: string;
  value: string;
}

export interface ReadingEvent {
  done: number;
  id: number;
  state: "running" | "done" | "cancelled" | "failed" | "broken off";
}

export interface Reckoning {
  channels: ChannelLeft[];
  cost?: Money;
  doubts: string[];
  eight?: Money;
  fixed?: Money;
  run: number;
  sold: number;
  unit?: Money;
  whatIf: WhatIf[];
}

export interface Rect {
  height: number;
  width: number;
  x: number;
  y: number;
}

export interface Refusal {
  at: string;
  code: "invalid" | "not-found" | "stale" | "conflict" | "damaged" | "unsupported" | "too-large" | "unreadable" | "cancelled" | "internal" | "not-allowed" | "elsewhere" | "wrong-media";
  hint: string;
  path: string;
  words: string;
}

export interface RefusalEvent {
  refusal: Refusal;
}

export interface Refused {
  service: string;
  why: string;
}

export interface Related {
  known: boolean;
  measure?: number;
  relation: "place" | "time" | "colour" | "feeling" | "form" | "distance" | "town" | "stretch" | "gap" | "sitting" | "day" | "hour" | "light" | "world" | "accent" | "opposites" | "tone" | "mixed" | "words" | "mood" | "contrast" | "shape" | "lines" | "lead" | "reach" | "focus" | "gaze";
  score: number;
  tells: boolean;
  unit: string;
  words: string;
}

export interface Report {
  broken: Held[];
  company: Company[];
  hold: Held[];
  restless: Restless[];
  since?: string;
  sittings: number;
}

export interface Restless {
  changes: number;
  number: number;
  of: number;
  photos: number[];
}

export interface RollAsked {
  reversed: boolean;
}

export interface Round {
  came: string;
  changes: string;
  date: string;
  kind: string;
  looks: Look[];
  printer: string;
  sent: Sent;
  verdict: "" | "again" | "go" | "go with changes";
}

export interface RoundShown {
  findings: FindingShown[];
  known: boolean;
  number: number;
  revision: number;
  round: Round;
  takenOut: number[];
}

export interface RoundWanted {
  revision: number;
  round: Round;
}

export interface Row {
  amount: Money;
  channel: string;
  counted?: Money;
  country: string;
  day: string;
  from: string;
  kind: "copies" | "carriage" | "printing" | "packing" | "postage" | "fees" | "other";
  order?: number;
  words: string;
}

export interface SDRRate {
  currency: string;
  day: string;
  source: string;
  worth: string;
}

export interface Same {
  photo: number;
  score: number;
  words: string;
}

export interface ScaleTold {
  scale: number;
  sheet: string;
}

export interface Search {
  files: number;
  found: number;
  looked: number;
  missing: number;
  state: "running" | "done" | "cancelled" | "failed" | "broken off";
  words: string;
}

export interface Sent {
  file: string;
  hash: string;
  version: number;
}

export interface Sequence {
  box: number[];
  chapters?: Chapter[];
  closing?: number;
  last: number;
  lastChapter?: number;
  line?: number;
  opening?: number;
  revision: number;
  spreads: Spread[];
}

export interface Settled {
  line: number;
  report: Report;
}

export interface Shift {
  x: number;
  y: number;
}

export interface Shipment {
  ask: Ask;
  parcels: Posted[];
  total: Money;
  trouble: string;
}

export interface ShotCode {
  corners: [number, number, number, number, number, number, number, number];
  number: number;
}

export interface Shown {
  across: boolean;
  apart?: number;
  filled: boolean;
  keep?: Point;
  manner: "full-bleed" | "framed" | "small";
  photo: number;
  picture: Rect;
  whole: Rect;
  window: Rect;
}

export interface Side {
  sequence?: Sequence;
  version?: number;
}

export interface SideBySide {
  breaks: BreakEven[];
  cheapest: number[];
  copies: number[];
  rows: QuoteRow[];
}

export interface SinceNow {
  name: string;
  words: string;
}

export interface SinceRound {
  progress: Progress;
  round: number;
  words: string[];
}

export interface Size {
  height: number;
  width: number;
}

export interface Slip {
  column: number;
  from: number;
  hint: string;
  length: number;
  line: number;
  words: string;
}

export interface SpecificationLine {
  key: string;
  name: string;
  words: string;
}

export interface SpecificationShown {
  act: number;
  doubts: string[];
  firstWording: string;
  is: Wishes;
  letter: string;
  lines: SpecificationLine[];
  missing: string[];
  placeholders: string[];
  sure: SureOf[];
  unprintable: string;
}

export interface Spread {
  across?: boolean;
  chapter?: number;
  id: number;
  left?: number;
  note?: string;
  pinned?: boolean;
  right?: number;
}

export interface Statement {
  fact: "taken" | "where" | "roll" | "frame" | "caption" | "feeling" | "gaze" | "note";
  now: Value;
  photo: number;
  was: Value;
}

export interface Step {
  chapter?: number;
  do: "put" | "add" | "remove" | "move" | "pin" | "across" | "box" | "over";
  index?: number;
  now?: number;
  nowChapter?: number;
  nowText?: string;
  on?: boolean;
  page?: Page;
  spread?: Spread;
  to?: number;
  was?: number;
  wasChapter?: number;
  wasText?: string;
}

export interface Suggestion {
  like: number[];
  used: number;
  word: string;
}

export interface SuggestionList {
  suggestions: Suggestion[];
}

export interface Sum {
  in: Money;
  left: Money;
  name: string;
  out: Money;
  rows: number[];
}

export interface SureOf {
  good: number;
  order: number;
}

export interface Swatch {
  lab: Lab;
  weight: number;
}

export interface Table {
  bad: Bad[];
  channel: string;
  columns: Record<string, number>;
  currency: string;
  days: "" | "dmy" | "mdy";
  encoding: string;
  header: string[];
  item: string;
  orders: Order[];
  other: number;
  rows: number;
  sample: string[][];
  separator: string;
}

export interface TableShown {
  done: Done[];
  held: HeldUp[];
  lacks: string[];
  undo: string;
  waiting: ToPack[];
}

export interface TakenIn {
  known: string[];
  list: OrderList;
  waiting: number;
}

export interface TakenOut {
  at: string;
  kind: "specification" | "printer" | "quote" | "terms" | "price";
  number: number;
  printer: string;
}

export interface Tally {
  all: number;
  by: Record<string, number>;
  free: number;
  waiting: number;
}

export interface Tariff {
  day: string;
  prices: Price[];
  source: string;
  zones: Zone[];
}

export interface Tax {
  included: boolean;
  percent: string;
}

export interface Terms {
  copies: number;
  currency: string;
  reclaims: boolean;
}

export interface TermsShown {
  act: number;
  is: Terms;
}

export interface TermsTold {
  is: Terms;
  seen: number;
}

export interface TextLine {
  size: number;
  text: string;
  x: number;
  y: number;
}

export interface Thinning {
  away: number;
  spare: number[];
}

export interface ThinningAsked {
  versions: number[];
}

export interface Title {
  binding: string;
  created: string;
  id: number;
  name: string;
  weights: Record<string, number>;
}

export interface TitleEvent {
  title: Title;
}

export interface TitleEvents {
  arriving: ArrivingEvent;
  bring: BringEvent;
  change: Changed;
  copies: Record<string, never>;
  cover: Record<string, never>;
  inquiry: Record<string, never>;
  originals: Search;
  pages: PagesEvent;
  photo: PhotoEvent;
  printing: PrintingShown;
  proofs: Record<string, never>;
  reading: ReadingEvent;
  refusal: RefusalEvent;
  reload: Record<string, never>;
  title: TitleEvent;
  tracks: Record<string, never>;
  versions: Record<string, never>;
}

export interface TitleList {
  titles: TitleSummary[];
}

export interface TitleState {
  arriving: ArrivingEvent[];
  brings: Bring[];
  photos: Photo[];
  refusals: Refusal[];
  title: Title;
  wall: Wall;
}

export interface TitleSummary {
  binding: string;
  created: string;
  id: number;
  lastAct: string;
  name: string;
  photos: number;
  spreads: number;
  weights: Record<string, number>;
}

export interface ToPack {
  channel: string;
  copies: CopyRef[];
  for: "sale" | "deposit" | "friend" | "press" | "shop" | "maker";
  label: string[];
  marks: string[];
  name: string;
  note: string;
  number: string;
  order: number;
  part: number;
  parts: number;
  posted?: Posted;
  to: string;
  trouble: string;
  wish: string;
}

export interface Tolerance {
  charged?: boolean;
  overs: string;
  unders: string;
}

export interface Tone {
  chroma: number;
  dark: number;
  deviation: number;
  light: number;
  lights?: [number, number, number, number, number, number, number, number, number, number, number, number, number, number, number, number];
  mean: number;
  monochrome: boolean;
}

export interface Tones {
  colour: "shifted" | "clean" | "cannot tell";
  deltaE: number;
  light: "shifted" | "clean" | "cannot tell";
  name: string;
  share: number;
  shift: LabD50;
  unsure: Unsure;
  wanted: LabD50;
}

export interface Town {
  country: string;
  countryName: string;
  lat: number;
  lng: number;
  name: string;
  people: number;
}

export interface TownList {
  attribution: string;
  label?: string;
  towns: Town[];
}

export interface Track {
  end?: string;
  findings: Finding[];
  from: string;
  id: number;
  name: string;
  points: number;
  start?: string;
}

export interface TrackList {
  tracks: Track[];
}

export interface TrimSize {
  height: number;
  name: string;
  width: number;
}

export interface Unfit {
  page: number;
  photo: number;
  words: string;
}

export interface UnitPrice {
  amount: Money;
  per: number;
}

export interface Unsure {
  ab: number;
  l: number;
}

export interface Value {
  gaze?: Gaze;
  taken?: When;
  text?: string;
  where?: Where;
  words?: string[];
}

export interface Version {
  at: string;
  id: number;
  looked?: string;
  name: string;
  named: boolean;
  sequence: Sequence;
  slip: boolean;
  why: string;
}

export interface VersionAmendment {
  looked?: boolean;
  name?: string;
  slip?: boolean;
  why?: string;
}

export interface VersionDetail {
  at: string;
  diff: Diff;
  id: number;
  looked?: string;
  name: string;
  named: boolean;
  sequence: Sequence;
  slip: boolean;
  why: string;
  words: string;
}

export interface VersionList {
  lines: Line[];
  versions: VersionSummary[];
}

export interface VersionName {
  name: string;
}

export interface VersionSummary {
  at: string;
  diff: Diff;
  id: number;
  line: number;
  looked?: string;
  name: string;
  named: boolean;
  pages: number[];
  photos: number;
  revision: number;
  slip: boolean;
  spreads: number;
  why: string;
  words: string;
}

export interface Wall {
  redo: string;
  sequence: Sequence;
  undo: string;
}

export interface WallReading {
  done: number;
  doubts: number[];
  hanging: Hanging;
  id: number;
  shots: WallShot[];
  state: "running" | "done" | "cancelled" | "failed" | "broken off";
  twice: number[];
}

export interface WallShot {
  codes: ShotCode[];
  error?: string;
  height: number;
  hint?: string;
  name: string;
  others: ShotCode[];
  unread: ([number, number, number, number, number, number, number, number])[];
  width: number;
}

export interface Weighed {
  choice?: Choice;
  mass: number;
  words: string;
}

export interface WhatIf {
  left: Money[];
  price: Money;
}

export interface WhatIfAsked {
  cover: number;
  pages: number;
  text: number;
}

export interface When {
  from?: string;
  offset?: number;
  precision: "unknown" | "instant" | "day" | "span";
  source: "" | "camera" | "scanner" | "maker" | "phone" | "track" | "notes" | "sidecar";
  to?: string;
}

export interface Where {
  lat: number;
  lng: number;
  radius: number;
  source: "" | "camera" | "scanner" | "maker" | "phone" | "track" | "notes" | "sidecar";
}

export interface Wishes {
  cover: Colours;
  deliverBy: string;
  deliverTo: string;
  files: FilesWish;
  finishing: string;
  inside: Colours;
  overs: string;
  own: OwnLine[];
  packing: string;
  proof: ProofWish;
  quantities: number[];
  replyBy: string;
  selfCover: boolean;
  signedWith: string;
  stiffness: string;
  unders: string;
  wording: string;
}

export interface WishesTold {
  is: Wishes;
  seen: number;
}

export interface Without {
  photo: number;
  why: string;
}

export interface Words {
  instead: string[];
  printer: string[];
  says: string[];
  trust: string;
}

export interface Writing {
  kind: "name" | "subtitle" | "text" | "colophon" | "caption" | "folio";
  room: Rect;
  text: string;
}

export interface Zone {
  countries: string[];
  name: string;
  rest: boolean;
}

export interface ZoneChange {
  after: number;
  before: number;
  course: "better" | "worse" | "as before" | "cannot tell";
  moved: LabD50;
  zone: string;
}

export interface ZoneOutlay {
  parcels: number;
  total: Money;
  zone: string;
}
