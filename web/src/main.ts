// Wires the page: the address says which title is open, the courier keeps its
// desk up to date, board and panels draw it.

import { h, render } from "preact";
import { speaker } from "./board/announce";
import { Board } from "./board/board";
import { open } from "./net/courier";
import { troubleOf } from "./net/program";
import { Opening } from "./panels/opening";
import { bindDrop } from "./panels/drop";
import { TitlePage } from "./panels/page";
import { Titles } from "./panels/titles";
import { savedView, saveView } from "./panels/view";

const app = document.getElementById("app")!;
const speak = speaker(document.getElementById("heard")!);
let leave: () => void = () => {};
let turn = 0;

/** Shows what the address names: "#title/3", or the list of titles. */
async function show(): Promise<void> {
  const mine = ++turn;
  leave();
  leave = () => {};
  render(null, app);
  const title = Number(/^#title\/(\d+)$/.exec(location.hash)?.[1] ?? 0);
  document.documentElement.dataset.ground = savedView().ground;
  if (title === 0) {
    document.title = "Pairwall";
    render(h(Titles, { go }), app);
    return;
  }
  const again = () => void show();
  render(h(Opening, { trouble: undefined, again }), app);
  try {
    const { desk, leave: stop } = await open(title, savedView(), speak);
    if (mine !== turn) return stop();
    enter(desk, stop);
  } catch (err) {
    if (mine === turn) render(h(Opening, { trouble: troubleOf(err), again }), app);
  }
}

function enter(desk: Awaited<ReturnType<typeof open>>["desk"], stop: () => void): void {
  document.title = `${desk.title.name}, Pairwall`;
  const board = new Board(desk, app);
  const undrop = bindDrop(desk);
  let kept = desk.view;
  const keep = desk.bell.on(() => {
    if (desk.view !== kept) saveView((kept = desk.view));
  });
  // Acts that wait for the program would be lost with the page.
  const hold = (e: BeforeUnloadEvent) => {
    if (desk.session.waiting > 0) e.preventDefault();
  };
  window.addEventListener("beforeunload", hold);
  render(null, app);
  render(h(TitlePage, { desk, board }), app);
  leave = () => {
    window.removeEventListener("beforeunload", hold);
    keep();
    undrop();
    board.close();
    stop();
  };
}

function go(title: number): void {
  location.hash = `#title/${title}`;
}

window.addEventListener("hashchange", () => void show());
void show();
