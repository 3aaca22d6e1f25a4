// Everything one window shows of one title, and everything the maker can set
// going from it. The wall and the panels draw from here and nowhere else.

import type * as api from "../net/api";
import { apply, type Statement } from "./change";
import { besides, build, type Intent } from "./acts";
import { bestIntent } from "./best";
import type { View, Side, Sheet, Naming, Notice, Earlier, Compared, Sending } from "./beside";
import { Arrivals } from "./arriving";
import { Bell } from "./bell";
import { Catalogue } from "./catalogue";
import { chapterOf } from "./chapter";
import { actWords, dated, statements, type Fact, type Photo } from "./facts";
import { choose, chooseMany, chosenPhotos, emptyHand, tidy, type Hand } from "./hand";
import { Memo } from "./memo";
import { noPaper, type Paper } from "./paper";
import { readSequence, type ChapterID, type PhotoID, type Refusal, type Sequence } from "./sequence";
import { sizeAt, standpoint, standpointWords, type Room, type Standpoint } from "./steps";
import { Session, type Carrier, type News, type Wall } from "./session";
import { Tabletop } from "./tabletop";
import { intentFor, type Carried, type Target } from "./targets";
import { Trying } from "./trial";
import { count, plural, sentence, type Counts } from "./words";

const none: readonly ChapterID[] = []; // always the same, or all that is made from it would be made again

export class Desk {
  readonly bell = new Bell();
  readonly session: Session;
  private catalogue: Catalogue;
  refusals: api.Refusal[];
  brings: api.Bring[];
  readonly arrivals = new Arrivals();
  bringing = ""; // the file just looked at
  title: api.Title;

  hand: Hand = emptyHand;
  side: Side;
  sheet: Sheet;
  lookingAt: PhotoID = 0;
  sieving = false; // pressing a group in "Choose by" shows it on the table instead
  compared: Compared = { earlier: "present", later: "present" };
  asking: Fact | "why" | undefined; // the fact the maker has just asked to say, or why two face each other
  naming: Naming | undefined; // the chapter that is being named
  earlier: Earlier | undefined; // an earlier version shown instead of the present wall
  readonly trial = new Trying(this); // a pair hung to be looked at
  readonly table = new Tabletop(this); // how much of the table is shown
  sending: Sending | undefined; // dropped files on their way to the program
  versionsMark = 0; // counts up when the list of versions is another
  tracksMark = 0; // likewise for the tracks
  coverMark = 0; // and for the cover
  inquiryMark = 0; // likewise for what printers were asked and answered
  proofsMark = 0; // likewise for rounds of proofs and what they tell
  copiesMark = 0; // likewise for copies, orders and what parcels are made with
  page = 0; // of the book, the one looked at last; 0 for none
  pages: api.Pages | undefined; // format and page plan, once they are known
  private readonly memo = new Memo();
  search: api.Search | undefined; // for originals that are missing
  printing: api.PrintingShown | undefined; // the PDF that is being made, or was made last
  paper: Paper = noPaper; // what is being read off the paper wall
  reading: api.ReadingEvent | undefined; // how far reading photographs of it is
  takesFiles: ((files: readonly File[]) => void) | undefined; // who takes dropped files instead of bringing them in
  squinting = false; // all pictures are blurred and grey, to judge weight and light
  room: Room | undefined; // what the wall has of the screen, once it is there
  notices: Notice[] = [];
  private keys = 0;
  /** Asks the engine who could face a photo, best first; fails with a sentence and a hint. */
  ask: (photo: PhotoID) => Promise<readonly Pick<api.Partner, "photo" | "side">[]> = () => Promise.resolve([]);

  constructor(state: api.TitleState, wall: Wall, carrier: Carrier, public view: View, private speak: (words: string) => void) {
    this.title = state.title;
    this.refusals = state.refusals;
    this.brings = state.brings;
    this.arrivals.replace(state.arriving);
    this.catalogue = new Catalogue(state.photos);
    this.session = new Session(wall, carrier, (news) => this.heard(news));
  }

  /** What is known of every photo, by its number; another map whenever something is known anew. */
  get photos(): ReadonlyMap<PhotoID, Photo> {
    return this.catalogue.photos;
  }

  /** The chosen photos with what is known of them. */
  get chosenPhotos(): Photo[] {
    return chosenPhotos(this.hand).flatMap((id) => this.photos.get(id) ?? []);
  }

  /** The wall as it is shown: an earlier version while one is looked at. */
  get shown(): Sequence {
    return (this.earlier ?? this.trial.now ?? this.session).sequence;
  }

  /** Whether what is shown is not the wall as it stands, so that nothing can be moved on it. */
  get readOnly(): boolean {
    return this.earlier !== undefined || this.trial.now !== undefined;
  }

  /** All photos in the order they were brought in. */
  get numbers(): PhotoID[] {
    return this.memo.of("numbers", [this.photos], () => [...this.photos.keys()].sort((a, b) => a - b));
  }

  get counts(): Counts {
    return this.memo.of("counts", [this.shown, this.photos], () => count(this.shown, this.numbers));
  }

  say(words: string): void {
    this.speak(words);
  }

  /** Does what is wanted and says so; refused, it says why. */
  act(intent: Intent): boolean {
    this.trial.end();
    if (this.earlier) {
      this.notify({ code: "invalid", message: "You are looking at an earlier version.", hint: "Return to the present to change the wall, or bring this version back." });
      return false;
    }
    return this.session.act(intent).ok;
  }

  /**
   * States a fact of photos as one act. now gives each one's value; words name
   * the act by the photos of which it says something new.
   */
  state(of: readonly PhotoID[], fact: Fact, now: (p: Photo, i: number) => api.Value, words?: (photos: PhotoID[]) => string): boolean {
    const says = () => statements(of.flatMap((id) => this.photos.get(id) ?? []), fact, now);
    const first = says();
    const photos = first.map((s) => s.photo);
    const act = words ? words(photos) : actWords(photos, fact, (first[0]?.now ?? {}) as api.Value);
    return this.act({ want: "say", act, says });
  }

  /** What a change that the program has taken says of photos. */
  learn(says: readonly Statement[] | undefined, labels: Readonly<Record<string, string>>, revision: number): void {
    if (!says || says.length === 0) return;
    this.catalogue.learn(says, labels, revision);
    this.catalogue.show(this.session.says);
    this.bell.ring();
  }

  /** Photos on the wall and on the table of which nobody knows the place or the day of taking. */
  get unknown(): { readonly place: PhotoID[]; readonly date: PhotoID[] } {
    return this.memo.of("unknown", [this.shown, this.photos], () => {
      const away = new Set(this.shown.box);
      const there = this.numbers.flatMap((id) => (away.has(id) ? [] : this.photos.get(id)!));
      return { place: there.filter((p) => !p.where).map((p) => p.number), date: there.filter((p) => !dated(p)).map((p) => p.number) };
    });
  }

  /** Chapters that are folded to a stack, of those there are on the wall as it is shown. */
  get folded(): ReadonlySet<ChapterID> {
    const list = this.view.folded[this.title.id] ?? none;
    return this.memo.of("folded", [this.shown, list], () => new Set(list.filter((id) => chapterOf(this.shown, id))));
  }

  /** Folds a chapter to a stack, or lays it out again. The sequence is the same either way. */
  fold(chapter: ChapterID): void {
    const was = this.view.folded[this.title.id] ?? [];
    const open = was.includes(chapter);
    const list = open ? was.filter((id) => id !== chapter) : [...was, chapter];
    this.say(`Chapter “${chapterOf(this.shown, chapter)?.name ?? ""}” is ${open ? "laid out" : "folded"}.`);
    this.setView({ folded: { ...this.view.folded, [this.title.id]: list } });
  }

  /** Puts what is carried where it is aimed at. What cannot be done there leaves it where it was, and says why. */
  put(carried: Carried, target: Target): void {
    const q = this.session.sequence;
    const intent = intentFor(q, carried, target);
    const built = intent && build(q, intent);
    this.hand = carried.kind === "spread" ? emptyHand : { ...choose(carried), many: carried.kind === "photos" && this.hand.many };
    if (built?.ok) this.act(intent!);
    else this.say(`Left where it was. ${built ? built.refusal.message : ""}`.trim());
    this.bell.ring();
  }

  /** Whether an act can be done, and what it would do besides, or why not, as a sentence. */
  foretell(intent: Intent): { can: boolean; words: string } {
    const before = this.session.sequence;
    const built = build(before, intent);
    if (!built.ok) return { can: false, words: built.refusal.message };
    const after = apply(before, built.value);
    if (!after.ok) return { can: false, words: after.refusal.message };
    return { can: !this.earlier, words: besides(before, after.value, intent) };
  }

  /** Hangs the best free partner beside a photo, as one act. */
  async pairWithBest(photo: PhotoID): Promise<void> {
    try {
      const proposed = await this.ask(photo);
      const intent = bestIntent(this.session.sequence, photo, proposed);
      if (intent) this.act(intent);
      else this.say(`Nobody who is free can be proposed for ${photo}. Ask who could face it to see all.`);
    } catch (err) {
      this.notify(err as Refusal);
    }
  }

  undo(): void {
    this.back(this.session.undo());
  }

  redo(): void {
    this.back(this.session.redo());
  }

  private back(outcome: { ok: true } | { ok: false; refusal: Refusal }): void {
    this.earlier = undefined;
    this.trial.end();
    if (!outcome.ok) this.say(outcome.refusal.message);
    this.bell.ring();
  }

  /** Chooses these photos together, and says how many; none puts down what is chosen. */
  chooseAll(photos: readonly PhotoID[], what = ""): void {
    this.say(`${photos.length === 0 ? "Nothing is" : plural(photos.length, "photo")}${what && ` ${what}`} chosen.`);
    this.setHand(photos.length === 0 ? emptyHand : chooseMany(photos));
  }

  setHand(hand: Hand): void {
    this.hand = hand;
    this.bell.ring();
  }

  setRoom(room: Room): void {
    const was = this.room;
    if (was?.width === room.width && was.height === room.height && was.finger === room.finger && was.head === room.head) return;
    this.room = room;
    this.bell.ring();
  }

  /** Squints, or opens the eyes again. */
  squint(): void {
    this.squinting = !this.squinting;
    this.say(this.squinting ? "Squinting: weights and light only." : "Eyes open.");
    this.bell.ring();
  }

  /** Rows on the wall: its spreads, a stack for each folded chapter, and the two pages that stand alone. */
  private get rows(): number {
    const { folded, shown } = this;
    return shown.spreads.filter((s) => !folded.has(s.chapter)).length + folded.size + 2;
  }

  /** Where one stands before the wall. */
  get standpoint(): Standpoint | undefined {
    return this.room && standpoint(this.view.size, this.room, this.rows);
  }

  /** Steps to where so many spreads make a line: fewer is nearer. */
  stand(line: number): void {
    const from = this.standpoint;
    if (!from || !this.room) return;
    this.setView({ size: sizeAt(line, from, this.room) });
    this.say(standpointWords(this.standpoint!));
  }

  setView(change: Partial<View>): void {
    this.view = { ...this.view, ...change };
    this.bell.ring();
  }

  /** Opens or closes what lies beside or above the wall. */
  show(what: { side?: Side; sheet?: Sheet; compared?: Compared; lookingAt?: PhotoID; asking?: Fact | "why" | undefined; naming?: Naming | undefined; sieving?: boolean }): void {
    Object.assign(this, "side" in what ? { sieving: false, ...what } : what);
    this.bell.ring();
  }

  /** Shows an earlier version in place of the wall; undefined returns to the present. */
  lookAtVersion(version: api.VersionDetail | undefined): void {
    this.trial.end();
    this.earlier = version && { version, sequence: readSequence(version.sequence) };
    this.hand = emptyHand;
    this.bell.ring();
  }

  notify(refusal: Refusal | { message: string; hint: string }): void {
    const { message, hint } = refusal;
    this.notices = [...this.notices.filter((n) => n.message !== message), { key: ++this.keys, message, hint }].slice(-3);
    this.say(hint ? `${message} ${hint}` : message);
    this.bell.ring();
  }

  putAway(key: number): void {
    this.notices = this.notices.filter((n) => n.key !== key);
    this.bell.ring();
  }

  /** A photo was brought in, or its entry is another now. */
  arrived(photo: api.Photo): void {
    this.catalogue.arrived(photo);
    if (this.session.says.length > 0) this.catalogue.show(this.session.says);
    this.bell.soon();
  }

  changedTitle(title: api.Title): void {
    this.title = title;
    this.bell.ring();
  }

  changedVersions(): void {
    this.versionsMark++;
    this.bell.ring();
  }

  /** Opens the pages of the book at one of them. */
  toPage(page: number): void {
    this.page = page;
    this.show({ sheet: "pages" });
  }

  /** Pages of the book: those of the wall as it is shown, and those before and after it. */
  get bookPages(): number {
    return this.counts.pages + (this.pages ? this.pages.plan.front.length + this.pages.plan.back.length : 0);
  }

  changedPages(pages: api.Pages): void {
    if (this.pages && pages.revision < this.pages.revision) return; // an answer overtaken by a later event
    this.pages = pages;
    this.bell.ring();
  }

  changedInquiry(): void {
    this.inquiryMark++;
    this.bell.ring();
  }

  changedProofs(): void {
    this.proofsMark++;
    this.bell.ring();
  }

  changedCover(): void {
    this.coverMark++;
    this.bell.ring();
  }

  changedCopies(): void {
    this.copiesMark++;
    this.bell.ring();
  }

  changedTracks(): void {
    this.tracksMark++;
    this.bell.ring();
  }

  setPaper(paper: Paper): void {
    this.paper = paper;
    this.bell.ring();
  }

  readWall(reading: api.ReadingEvent): void {
    this.reading = reading;
    this.bell.soon();
  }

  /** How far looking for lost originals is. */
  searched(search: api.Search): void {
    const was = this.search;
    this.search = search;
    if (search.state !== "running" && was?.state === "running") this.say(search.words);
    this.bell.ring();
  }

  /** How far a PDF is. */
  printed(p: api.PrintingShown): void {
    const was = this.printing;
    this.printing = p;
    if (p.state !== "running" && was?.id === p.id && was.state === "running") this.say(p.words);
    this.bell.soon();
  }

  /** Photographs are on their way that can be shown already. */
  arriving(event: api.ArrivingEvent): void {
    this.arrivals.told(event);
    this.bell.soon();
  }

  changedBring(bring: api.Bring, name: string): void {
    this.arrivals.heard(bring);
    const was = this.brings.find((b) => b.id === bring.id);
    this.brings = was ? this.brings.map((b) => (b === was ? bring : b)) : [bring, ...this.brings];
    this.bringing = bring.state === "running" ? name : "";
    if (bring.state !== "running" && was?.state === "running") this.say(bring.words);
    this.bell.soon();
  }

  refusedFile(refusal: api.Refusal): void {
    this.refusals = [refusal, ...this.refusals.filter((r) => r.path !== refusal.path)];
    this.bell.soon();
  }

  /** The whole title, fetched anew. */
  refresh(state: api.TitleState, wall: Wall): void {
    this.title = state.title;
    this.refusals = state.refusals;
    this.brings = state.brings;
    this.arrivals.replace(state.arriving);
    this.catalogue.replace(state.photos);
    this.catalogue.show(this.session.says);
    this.session.replace(wall);
    this.bell.ring();
  }

  private heard(news: News): void {
    if (news.is === "acted" || news.is === "settled" || news.is === "refused") this.catalogue.show(this.session.says);
    if (news.is === "acted") {
      const beside = besides(news.from, news.to, news.intent);
      this.say(`Done: ${sentence(news.act)}${beside ? " " + beside : ""}`);
    } else if (news.is === "undone") {
      this.say(`Undone: ${sentence(news.act)}`);
    } else if (news.is === "redone") {
      this.say(`Done again: ${sentence(news.act)}`);
    } else if (news.is === "elsewhere") {
      this.say(`The wall changed in another window: ${sentence(news.act)}`);
    } else if (news.is === "refused") {
      if (this.session.held.length > 0 && news.act) this.say(`${news.why.message} ${news.why.hint}`);
      else this.notify(news.why);
    } else if (news.is === "revived") {
      this.say(`${plural(news.sent + news.held, "act", "acts")} that waited in this browser ${news.sent + news.held === 1 ? "was" : "were"} taken up again${news.held > 0 ? "; look at the notices" : " and sent"}.`);
    } else if (news.is === "waiting" && !this.session.reachable) {
      this.say("The program does not answer. What you do waits here and is sent when it is back.");
    }
    this.table.seeHung();
    this.trial.again();
    this.hand = tidy(this.session.sequence, this.hand, (photo) => this.photos.has(photo));
    this.bell.ring();
  }
}
