// Calls to the program on this machine, typed by its own description. Every
// call either gives what was asked for or throws Trouble: a sentence, and a way
// out.

import type * as api from "./api";

/** Names this window in the journal, so that it knows its own acts again. */
export const windowName = Array.from(crypto.getRandomValues(new Uint8Array(8)), (b) => b.toString(16).padStart(2, "0")).join("");

/** Why a call failed, in words for the maker. */
export class Trouble extends Error {
  constructor(readonly code: string, message: string, readonly hint: string, readonly wall?: api.Wall, readonly pages?: api.Pages) {
    super(message);
  }
}

/** The program did not answer: it has ended, or is starting. */
export const unreachable = "unreachable";

export function troubleOf(err: unknown): Trouble {
  if (err instanceof Trouble) return err;
  return new Trouble("internal", "Something went wrong on this page.", `Reload it. (${err instanceof Error ? err.message : String(err)})`);
}

async function call<T>(method: string, path: string, body?: unknown, signal?: AbortSignal): Promise<T> {
  const headers: Record<string, string> = {};
  if (method !== "GET") headers["Pairwall-Window"] = windowName;
  if (body !== undefined) headers["Content-Type"] = "application/json";
  let response: Response;
  try {
    response = await fetch(path, { method, headers, body: body === undefined ? null : JSON.stringify(body), signal: signal ?? null });
  } catch (err) {
    if (signal?.aborted) throw err;
    throw new Trouble(unreachable, "The program does not answer.", "Start Pairwall again; this page goes on by itself.");
  }
  return read<T>(response.status, await response.text().catch(() => ""));
}

function read<T>(status: number, text: string): T {
  let body: unknown;
  try {
    body = JSON.parse(text);
  } catch {
    throw new Trouble("internal", "The program gave an answer that makes no sense.", "Reload the page. If it happens again, start Pairwall again.");
  }
  if (status >= 200 && status < 300) return body as T;
  const { error, wall, pages } = body as api.Problem;
  throw new Trouble(error.code, error.message, error.hint, wall, pages);
}

const title = (id: number) => `/api/titles/${id}`;

/** Which photos are printed, and how. */
export interface PrintAsked {
  readonly of: "wall" | "table" | "all" | "chosen";
  readonly photos: readonly number[]; // for chosen
  readonly sheet: string;
  readonly long: number; // millimetres
  readonly caption: boolean;
  readonly palette: boolean;
  readonly backs: boolean;
}
export type PrintKind = "cards" | "contact" | "spreads";

function printQuery(asked: PrintAsked): URLSearchParams {
  const flag = (on: boolean) => (on ? "1" : "0");
  return new URLSearchParams({ of: asked.of, photos: asked.of === "chosen" ? asked.photos.join(",") : "", sheet: asked.sheet,
    long: String(asked.long || 0), caption: flag(asked.caption), palette: flag(asked.palette), backs: flag(asked.backs) });
}

export const planPrints = (id: number, asked: PrintAsked, signal: AbortSignal) =>
  call<api.PrintPlan>("GET", `${title(id)}/prints?${printQuery(asked)}`, undefined, signal);

/** A file the program made, whole, with the name it is to have. */
export interface Made {
  readonly file: Blob;
  readonly name: string;
}

async function made(path: string, signal: AbortSignal): Promise<Made> {
  let response: Response;
  try {
    response = await fetch(path, { signal });
  } catch (err) {
    if (signal.aborted) throw err;
    throw new Trouble(unreachable, "The file could not be made.", "See that Pairwall is running, then try again.");
  }
  if (!response.ok) return read(response.status, await response.text());
  const name = /filename\*=UTF-8''(.*)$/.exec(response.headers.get("Content-Disposition") ?? "")?.[1];
  return { file: await response.blob(), name: decodeURIComponent(name ?? path.split("/").at(-1)!) };
}

export const printed = (id: number, kind: PrintKind, asked: PrintAsked, signal: AbortSignal) =>
  made(`/print/${id}/${kind}.pdf?${printQuery(asked)}`, signal);
export const packed = (id: number, places: boolean, originals: boolean, signal: AbortSignal) =>
  made(`/out/${id}/packed.zip?places=${places ? 1 : 0}&originals=${originals ? 1 : 0}`, signal);
/** The letter that asks for a quote, to a printer when one is named. */
export const specified = (id: number, printer: number | undefined, signal: AbortSignal) =>
  made(`/print/${id}/specification.pdf${printer === undefined ? "" : `?printer=${printer}`}`, signal);
export const ordered = (id: number, form: "csv" | "json", signal: AbortSignal) => made(`/out/${id}/order.${form}`, signal);

export const printTerms = (id: number) => call<api.PrintTerms>("GET", `${title(id)}/print-terms`);
export const printings = (id: number) => call<api.PrintingList>("GET", `${title(id)}/printings`);
/** Begins a PDF; events tell how far it is. */
export const print = (id: number, wish: api.PrintingWish) => call<api.PrintingShown>("POST", `${title(id)}/printings`, wish);
/** Stops a PDF that is being made. */
export const stopPrinting = (id: number, printing: number) => call<unknown>("DELETE", `${title(id)}/printings/${printing}`);

/** Takes a packed title in. */
export async function unpack(file: File): Promise<api.Title> {
  const form = new FormData();
  form.append("files", file, file.name);
  let response: Response;
  try {
    response = await fetch("/api/packs", { method: "POST", headers: { "Pairwall-Window": windowName }, body: form });
  } catch {
    throw new Trouble(unreachable, "The packed title did not arrive.", "See that Pairwall is running, then choose it again.");
  }
  return read<api.Title>(response.status, await response.text().catch(() => ""));
}

export const titles = () => call<api.TitleList>("GET", "/api/titles");
export const beginTitle = (name: string) => call<api.Title>("POST", "/api/titles", { name } satisfies api.NewTitle);
export const openTitle = (id: number) => call<api.TitleState>("GET", title(id));
export const amendTitle = (id: number, what: api.Amendment) => call<api.Title>("PATCH", title(id), what);

export const makeChange = (id: number, change: api.Change) => call<api.Changed>("POST", `${title(id)}/changes`, change);
export const undo = (id: number, revision: number) => call<api.Changed>("POST", `${title(id)}/undo`, { revision });
export const redo = (id: number, revision: number) => call<api.Changed>("POST", `${title(id)}/redo`, { revision });

/** How much each kind of evidence counts, 0..1. */
export type Weights = Readonly<Record<string, number>>;

export function partners(id: number, of: { photo: number } | { spread: number }, weights: Weights, how: { box: boolean; surprise: boolean }, n: number, signal: AbortSignal): Promise<api.PartnerList> {
  const query = new URLSearchParams({ ...("spread" in of ? { spread: String(of.spread) } : { photo: String(of.photo) }), n: String(n), box: how.box ? "1" : "0", surprise: how.surprise ? "1" : "0" });
  for (const [name, weight] of Object.entries(weights)) query.set(name, String(weight));
  return call<api.PartnerList>("GET", `${title(id)}/partners?${query}`, undefined, signal);
}

export const arrange = (id: number, asked: api.ArrangementAsked, signal: AbortSignal) =>
  call<api.Proposal>("POST", `${title(id)}/arrangement`, asked, signal);
export const acceptSome = (id: number, accepted: api.Acceptance) => call<api.Change>("POST", `${title(id)}/arrangement/accept`, accepted);

export const apart = (id: number, signal: AbortSignal) => call<api.ApartList>("GET", `${title(id)}/apart`, undefined, signal);
export const keepApart = (id: number, pair: [number, number], on: boolean) => call<api.ApartList>("PUT", `${title(id)}/apart`, { pair, apart: on } satisfies api.ApartAsked);

/** The maker's own words for another photo, the likeliest first. */
export const feelingsFor = (id: number, photo: number, signal: AbortSignal) =>
  call<api.SuggestionList>("GET", `${title(id)}/photos/${photo}/feelings`, undefined, signal);

/** What would be lost with each photo on the wall, or with one photo. */
export const losses = (id: number, photo: number, signal: AbortSignal) =>
  call<api.LossList>("GET", `${title(id)}/losses${photo ? `?photo=${photo}` : ""}`, undefined, signal);

/** The photos that are or ever were on the wall. */
export const hung = (id: number) => call<api.HungList>("GET", `${title(id)}/hung`);
export const versions = (id: number) => call<api.VersionList>("GET", `${title(id)}/versions`);
export const version = (id: number, v: number) => call<api.VersionDetail>("GET", `${title(id)}/versions/${v}`);
export const keepVersion = (id: number, name: string) => call<api.Version>("POST", `${title(id)}/versions`, { name });
export const amendVersion = (id: number, v: number, say: api.VersionAmendment) => call<api.Version>("PATCH", `${title(id)}/versions/${v}`, say);
export const bringBack = (id: number, v: number, revision: number) => call<api.Changed>("POST", `${title(id)}/versions/${v}/bring-back`, { revision });

export const beginLine = (id: number, begin: api.LineBegun) => call<api.Changed>("POST", `${title(id)}/lines`, begin);
export const nameLine = (id: number, line: number, name: string) => call<api.LineList>("PATCH", `${title(id)}/lines/${line}`, { name } satisfies api.LineName);
export const goOver = (id: number, line: number, revision: number) => call<api.Changed>("POST", `${title(id)}/lines/${line}/go-over`, { revision });
export const keepAside = (id: number, aside: api.AsideAsked) => call<api.KeptAside>("POST", `${title(id)}/aside`, aside);

export const compare = (id: number, earlier: api.Side, later: api.Side) =>
  call<api.Comparison>("POST", `${title(id)}/comparison`, { earlier, later } satisfies api.ComparisonAsked);
export const settled = (id: number) => call<api.Settled>("GET", `${title(id)}/settled`);
export const thinning = (id: number, keep: string, older: number) =>
  call<api.Thinning>("GET", `${title(id)}/thinning?${new URLSearchParams({ keep, older: String(older) })}`);
export const thinOut = (id: number, versions: number[]) => call<api.VersionList>("POST", `${title(id)}/thinning`, { versions } satisfies api.ThinningAsked);
export const putBack = (id: number) => call<api.PutBackCount>("POST", `${title(id)}/thinning/put-back`, {});

export const townsNamed = (name: string, signal: AbortSignal) =>
  call<api.TownList>("GET", `/api/towns?${new URLSearchParams({ name, n: "30" })}`, undefined, signal);
export const townsAround = (lat: number, lng: number, signal: AbortSignal) =>
  call<api.TownList>("GET", `/api/towns?${new URLSearchParams({ lat: String(lat), lng: String(lng) })}`, undefined, signal);

export const tracks = (id: number) => call<api.TrackList>("GET", `${title(id)}/tracks`);
export const removeTrack = (id: number, track: number) => call<api.TrackList>("DELETE", `${title(id)}/tracks/${track}`);
export const borrow = (id: number, asked: api.BorrowingAsked, signal: AbortSignal) =>
  call<api.Loan>("POST", `${title(id)}/borrowings`, asked, signal);
export const piles = (id: number) => call<api.PileList>("GET", `${title(id)}/piles`);
export const reverseRoll = (id: number, roll: string) => call<api.Change>("PATCH", `${title(id)}/rolls/${encodeURIComponent(roll)}`, { reversed: true } satisfies api.RollAsked);
export const originals = (id: number) => call<api.Originals>("GET", `${title(id)}/originals`);
export const findOriginals = (id: number, folder: string) => call<api.Search>("POST", `${title(id)}/originals`, { folder } satisfies api.LookIn);
export const stopSearch = (id: number) => call<unknown>("DELETE", `${title(id)}/originals`);

export const formats = () => call<api.FormatList>("GET", "/api/formats");
export const pages = (id: number) => call<api.Pages>("GET", `${title(id)}/pages`);
export const savePages = (id: number, wanted: api.PagesWanted) => call<api.Pages>("PUT", `${title(id)}/pages`, wanted);
export const undoPages = (id: number, revision: number) => call<api.Pages>("POST", `${title(id)}/pages/undo`, { revision } satisfies api.OnRevision);
export const redoPages = (id: number, revision: number) => call<api.Pages>("POST", `${title(id)}/pages/redo`, { revision } satisfies api.OnRevision);

/** The wall laid out on its pages; by another format or plan, to look at, when they are given. */
export const book = (id: number, asked?: api.BookAsked, signal?: AbortSignal) =>
  asked ? call<api.BookShown>("POST", `${title(id)}/book`, asked, signal) : call<api.BookShown>("GET", `${title(id)}/book`, undefined, signal);

const inquiryAt = (id: number) => `${title(id)}/inquiry`;
export const inquiry = (id: number) => call<api.InquiryShown>("GET", inquiryAt(id));
export const keepWishes = (id: number, told: api.WishesTold) => call<api.InquiryShown>("PUT", `${inquiryAt(id)}/specification`, told);
export const keepTerms = (id: number, told: api.TermsTold) => call<api.InquiryShown>("PUT", `${inquiryAt(id)}/terms`, told);
export const keepPrice = (id: number, told: api.PriceTold) => call<api.InquiryShown>("PUT", `${inquiryAt(id)}/price`, told);
export const addPrinter = (id: number, is: api.Printer) => call<api.InquiryShown>("POST", `${inquiryAt(id)}/printers`, { seen: 0, is } satisfies api.PrinterTold);
export const changePrinter = (id: number, printer: number, told: api.PrinterTold) => call<api.InquiryShown>("PUT", `${inquiryAt(id)}/printers/${printer}`, told);
export const addQuote = (id: number, is: api.Quote) => call<api.InquiryShown>("POST", `${inquiryAt(id)}/quotes`, { seen: 0, is } satisfies api.QuoteTold);
export const changeQuote = (id: number, quote: number, told: api.QuoteTold) => call<api.InquiryShown>("PUT", `${inquiryAt(id)}/quotes/${quote}`, told);
export const takeOut = (id: number, kind: "printer" | "quote", number: number, seen: number) =>
  call<api.InquiryShown>("DELETE", `${inquiryAt(id)}/${kind}s/${number}?seen=${seen}`);
export const putBackDealing = (id: number, back: api.BackTold) => call<api.InquiryShown>("POST", `${inquiryAt(id)}/put-back`, back);
export const turnInquiry = (id: number, way: "undo" | "redo") => call<api.InquiryShown>("POST", `${inquiryAt(id)}/${way}`);

export const folders = (path: string) => call<api.FolderListing>("GET", `/api/folders?${new URLSearchParams({ path })}`);
export const bringFrom = (id: number, paths: string[]) => call<api.Bring>("POST", `${title(id)}/brings`, { folders: paths } satisfies api.BringFrom);
export const stopBring = (id: number, bring: number) => call<api.Bring>("DELETE", `${title(id)}/brings/${bring}`);
export const goOnBringing = (id: number, bring: number) => call<api.Bring>("POST", `${title(id)}/brings/${bring}/go-on`);


/** Reads a wall that was typed; nothing changes. */
export const readHanging = (id: number, text: string, signal: AbortSignal) =>
  call<api.HangingRead>("POST", `${title(id)}/hangings`, { text } satisfies api.HangingAsked, signal);
export const wallReading = (id: number, reading: number) => call<api.WallReading>("GET", `${title(id)}/readings/${reading}`);
export const dropReading = (id: number, reading: number) => call<unknown>("DELETE", `${title(id)}/readings/${reading}`);

/** Hands over photographs of the paper wall; long is that of its small prints in millimetres. */
export const readWall = (id: number, files: readonly File[], long: number, signal: AbortSignal) =>
  hand<api.WallReading>(`${title(id)}/readings?long=${long || 70}`, files, "The photographs", signal);

/** The address of a photograph of the paper wall, from 0. */
export const shotAddress = (id: number, reading: number, shot: number) => `/shots/${id}/${reading}/${shot + 1}.jpg`;

/** Hands over track files; all are kept or none. */
export const addTracks = (id: number, files: readonly File[]) => hand<api.TrackList>(`${title(id)}/tracks`, files, "The tracks");

/** What does not fit before a title is printed. */
export const checkTitle = (id: number) => call<api.Checked>("GET", `${title(id)}/check`);
export const inks = (id: number) => call<api.PrintersProfile>("GET", `${title(id)}/inks`);
export const takeInks = (id: number, file: File) => hand<api.PrintersProfile>(`${title(id)}/inks`, [file], "The profile");
export const limitInks = (id: number, inkLimit: number) => call<api.PrintersProfile>("PATCH", `${title(id)}/inks`, { inkLimit });
export const dropInks = (id: number) => call<api.PrintersProfile>("DELETE", `${title(id)}/inks`);

/** The cover: figures, brief, the designer's file, the simple one. */
export const cover = (id: number) => call<api.CoverShown>("GET", `${title(id)}/cover`);
export const planCover = (id: number, wanted: api.CoverWanted) => call<api.CoverShown>("PUT", `${title(id)}/cover`, wanted);
export const bringCover = (id: number, file: File, signal: AbortSignal) => hand<api.CoverShown>(`${title(id)}/cover/file`, [file], "The PDF", signal);
export const viewCover = (id: number, file: File, signal: AbortSignal) => hand<api.CoverShown>(`${title(id)}/cover/view`, [file], "The picture", signal);
export const dropCover = (id: number) => call<api.CoverShown>("DELETE", `${title(id)}/cover/file`);
export const coverTemplate = (id: number, signal: AbortSignal) => made(`/out/${id}/cover-template.pdf`, signal);
export const coverTemplatePicture = (id: number, ppi: number, signal: AbortSignal) => made(`/out/${id}/cover-template.png?ppi=${ppi}`, signal);
export const coverBrief = (id: number, signal: AbortSignal) => made(`/out/${id}/cover-brief.txt`, signal);
export const printedCover = (id: number, signal: AbortSignal) => made(`/print/${id}/cover.pdf`, signal);

/** The address of the picture of the flat cover; view counts on with every new one. */
export const coverViewAddress = (id: number, view: number) => `/covers/${id}/view.jpg?of=${view}`;
export const proofs = (id: number) => call<api.ProofsShown>("GET", `${title(id)}/proofs`);
export const addRound = (id: number, round: api.Round) => call<api.ProofsShown>("POST", `${title(id)}/proofs`, round);
export const changeRound = (id: number, number: number, revision: number, round: api.Round) => call<api.ProofsShown>("PUT", `${title(id)}/proofs/${number}`, { revision, round });
export const takeOutRound = (id: number, number: number) => call<api.ProofsShown>("DELETE", `${title(id)}/proofs/${number}`);
export const putBackRound = (id: number, number: number) => call<api.ProofsShown>("POST", `${title(id)}/proofs/${number}/put-back`);
export const measureProof = (id: number, round: number, page: number, file: File, signal: AbortSignal) =>
  hand<api.ProofsShown>(`${title(id)}/proofs/${round}/photographs?page=${page}`, [file], "The photograph", signal);
export const measureAgain = (id: number, photograph: number, told: api.MeasuredWith) => call<api.ProofsShown>("POST", `${title(id)}/proofs/photographs/${photograph}/again`, told);
export const takeOutPhotograph = (id: number, photograph: number) => call<api.ProofsShown>("DELETE", `${title(id)}/proofs/photographs/${photograph}`);
export const putBackPhotograph = (id: number, photograph: number) => call<api.ProofsShown>("POST", `${title(id)}/proofs/photographs/${photograph}/put-back`);
export const stripAddress = (id: number) => `/print/${id}/strip.pdf`;
export const proofAddress = (id: number, photograph: number) => `${title(id)}/proofs/photographs/${photograph}/picture`;

/** The address of a picture of where the printer's inks do not reach a photo; another round is another address, for another profile. */
export const beyondAddress = (id: number, photo: number, round: number) => `/beyond/${id}/${photo}.png?round=${round}`;

export const countries = () => call<api.CountryList>("GET", "/api/countries");
export const edition = (id: number) => call<api.EditionShown>("GET", `${title(id)}/edition`);
export const saveEdition = (id: number, said: api.EditionSaid) => call<api.EditionShown>("PUT", `${title(id)}/edition`, said);
export const moveCopies = (id: number, move: api.Move) => call<api.EditionShown>("POST", `${title(id)}/copies`, move);

export const orders = (id: number) => call<api.OrdersShown>("GET", `${title(id)}/orders`);
export const enterOrder = (id: number, said: api.OrderSaid) => call<api.OrderShown>("POST", `${title(id)}/orders`, said);
export const changeOrder = (id: number, said: api.OrderSaid) => call<api.OrderShown>("PUT", `${title(id)}/orders/${said.order.id}`, said);
export const person = (id: number, order: number) => call<api.PersonOrders>("GET", `${title(id)}/orders/${order}/person`);
export const erasePerson = (id: number, order: number, days: number) => call<api.Erased>("POST", `${title(id)}/orders/${order}/erase`, { days } satisfies api.Erasing);
export const declarations = (id: number, order: number) => call<api.DeclarationList>("GET", `${title(id)}/orders/${order}/declarations`);
export const sentOrders = (id: number, form: "csv" | "json", signal: AbortSignal) => made(`/out/${id}/orders.${form}`, signal);

/** How a table of orders is to be read; what is left out is found, or remembered. */
export type ReadingAsked = Partial<Pick<api.Table, "encoding" | "separator" | "columns" | "channel" | "currency" | "item" | "days">>;

/** Reads a table of orders; with take, keeps those that are new. */
export function readOrders(id: number, file: File, how: ReadingAsked | undefined, take: boolean): Promise<api.OrderTable> {
  const query = new URLSearchParams({ take: take ? "1" : "0", ...(how ? { reading: JSON.stringify(how) } : {}) });
  return hand<api.OrderTable>(`${title(id)}/order-lists?${query}`, [file], "The table");
}
export const takeBackOrders = (id: number, list: number) => call<api.OrdersShown>("DELETE", `${title(id)}/order-lists/${list}`);

export const post = (id: number) => call<api.PostState>("GET", `${title(id)}/post`);
export const savePost = (id: number, said: api.PostSaid) => call<api.PostState>("PUT", `${title(id)}/post`, said);
export const readPrices = (id: number, file: File) => hand<api.Tariff>(`${title(id)}/post/prices`, [file], "The price table");
export const sentPrices = (id: number, signal: AbortSignal) => made(`/out/${id}/prices.csv`, signal);
export const postage = (id: number) => call<api.OutlayShown>("GET", `${title(id)}/postage`);
export const whatIf = (id: number, asked: api.WhatIfAsked) => call<api.Difference>("POST", `${title(id)}/postage/what-if`, asked);

/** Hands files over; what names them if they do not arrive. */
async function hand<T>(path: string, files: readonly File[], what: string, signal?: AbortSignal): Promise<T> {
  const form = new FormData();
  for (const file of files) form.append("files", file, file.name);
  let response: Response;
  try {
    response = await fetch(path, { method: "POST", headers: { "Pairwall-Window": windowName }, body: form, signal: signal ?? null });
  } catch (err) {
    if (signal?.aborted) throw err;
    throw new Trouble(unreachable, `${what} did not arrive.`, "See that Pairwall is running, then choose them again.");
  }
  return read<T>(response.status, await response.text().catch(() => ""));
}

/**
 * Hands over dropped files. fetch cannot tell how far sending is, so this is
 * the older way; sent is 0..1.
 */
export function dropFiles(id: number, files: readonly File[], sent: (part: number) => void, signal: AbortSignal): Promise<api.Bring> {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    request.open("POST", `${title(id)}/files`);
    request.setRequestHeader("Pairwall-Window", windowName);
    request.upload.onprogress = (e) => sent(e.total > 0 ? e.loaded / e.total : 0);
    request.onload = () => {
      try {
        resolve(read<api.Bring>(request.status, request.responseText));
      } catch (err) {
        reject(err as Error);
      }
    };
    request.onerror = () => reject(new Trouble(unreachable, "The files did not arrive.", "See that Pairwall is running, then drop them again."));
    request.onabort = () => reject(new Trouble("cancelled", "Sending was stopped; nothing was kept.", ""));
    signal.addEventListener("abort", () => request.abort());
    const form = new FormData();
    for (const file of files) form.append("files", file, file.name);
    request.send(form);
  });
}

/** The address of a photo's card image. Content never changes under it. */
export function cardAddress(titleID: number, photo: number, size: 160 | 400 | 1600): string {
  return `/cards/${titleID}/${photo}/${size}.jpg`;
}

/** The address of the small picture that a photograph on its way in carries of itself. */
export function previewAddress(titleID: number, bring: number, place: number): string {
  return `/previews/${titleID}/${bring}/${place}.jpg`;
}

const parcelsAt = (id: number) => `${title(id)}/parcels`;
export const packingTable = (id: number) => call<api.TableShown>("GET", parcelsAt(id));
export const weighParcel = (id: number, said: api.ParcelSaid) => call<api.Weighed>("POST", `${parcelsAt(id)}/weigh`, said);
export const packParcel = (id: number, said: api.ParcelSaid) => call<api.TableShown>("POST", parcelsAt(id), said);
export const changeParcel = (id: number, parcel: number, said: api.ParcelChanged) => call<api.TableShown>("PUT", `${parcelsAt(id)}/${parcel}`, said);
export const unpackParcel = (id: number, parcel: number) => call<api.TableShown>("DELETE", `${parcelsAt(id)}/${parcel}`);
export const undoParcel = (id: number) => call<api.TableShown>("POST", `${parcelsAt(id)}/undo`);
export const labelPlan = (id: number) => call<api.LabelPlan>("GET", `${title(id)}/labels`);
export type ParcelPrint = "labels" | "label-test" | "packing-list" | "thanks" | "customs";
export const parcelPrint = (id: number, kind: ParcelPrint, signal: AbortSignal, orders?: readonly number[]) =>
  made(`/print/${id}/parcels/${kind}.pdf${orders ? `?orders=${orders.join(",")}` : ""}`, signal);
export const money = (id: number) => call<api.MoneyShown>("GET", `${title(id)}/money`);
export const saveMoney = (id: number, said: api.CashbookSaid) => call<api.MoneyShown>("PUT", `${title(id)}/money`, said);
export const moneyTable = (id: number, form: "csv" | "json", signal: AbortSignal) => made(`/out/${id}/money.${form}`, signal);
