import { useEffect, useMemo, useState } from "preact/hooks";
import { foundOrders, lacking, stateWords, type OrderState } from "../model/copies";
import type { Desk } from "../model/desk";
import { numberOf } from "../model/money";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { usePlaces, type Places } from "./edition";
import { Make } from "./make";
import { OrderForm } from "./order-form";
import { ReadTable } from "./order-table";
import { SheetFrame, Trouble, useAsked, useDesk, Word } from "./parts";

type Part = { readonly at: "list" } | { readonly at: "table" } | { readonly at: "form"; readonly order?: number };

/** Who wants copies: entered by hand or read from a shop's table. */
export function Orders({ desk }: { desk: Desk }) {
  useDesk(desk);
  const places = usePlaces();
  const [part, setPart] = useState<Part>({ at: "list" });
  const { found, trouble, setTrouble } = useAsked(() => program.orders(desk.title.id), [desk, desk.copiesMark]);
  const open = part.at === "form" && part.order ? found?.orders.find((o) => o.order.id === part.order) : undefined;
  const list = () => setPart({ at: "list" });
  return (
    <SheetFrame name="orders" title="Orders" whole close={() => desk.show({ sheet: undefined })}>
      <nav class="copies-nav" aria-label="Orders">
        {([["list", "All orders"], ["form", "Enter an order"], ["table", "Read a shop's table"]] as const).map(([at, words]) => (
          <Word key={at} act={`orders-${at}`} aria-current={part.at === at && !(at === "form" && part.at === "form" && part.order) ? "page" : undefined} onClick={() => setPart({ at })}>{words}</Word>
        ))}
      </nav>
      {trouble && <Trouble of={trouble} />}
      {!found || !places.there ? !trouble && <p class="quiet" role="status">Looking at the orders.</p>
        : part.at === "list" ? <List desk={desk} of={found} places={places} show={(order) => setPart({ at: "form", order })} enter={() => setPart({ at: "form" })} read={() => setPart({ at: "table" })} setTrouble={setTrouble} />
        : part.at === "table" ? <ReadTable desk={desk} done={list} />
        : <OrderForm key={part.order ?? 0} desk={desk} shown={open} places={places} done={list} />}
    </SheetFrame>
  );
}

type Which = OrderState | "all" | "waiting" | "doubtful";
const which: readonly (readonly [Which, string])[] = [["all", "all"], ["open", "to be sent"], ["sent", "sent"], ["cancelled", "cancelled"], ["waiting", "that wait for copies"], ["doubtful", "with a doubtful address"]];
const atOnce = 200; // rows drawn at first

interface ListProps {
  desk: Desk;
  of: api.OrdersShown;
  places: Places;
  show(order: number): void;
  enter(): void;
  read(): void;
  setTrouble(t: { message: string; hint: string } | undefined): void;
}

function List({ desk, of, places, show, enter, read, setTrouble }: ListProps) {
  const [typed, setTyped] = useState("");
  const [state, setState] = useState<Which>("all");
  const [rows, setRows] = useState(atOnce);
  useEffect(() => setRows(atOnce), [typed, state]);
  const list = useMemo(() => foundOrders(of.orders, typed, state), [of.orders, typed, state]);
  if (of.orders.length === 0) {
    return (
      <section class="bare-orders">
        <h3>No orders yet</h3>
        <p>Enter them one by one, or export them from your shop as CSV and read that table: what its columns mean is said once and remembered.</p>
        <p class="line-acts"><Word act="begin-order" strong onClick={enter}>Enter an order</Word><Word act="begin-table" onClick={read}>Read a shop's table</Word></p>
        <p class="care">Names and addresses stay in the data file on this machine. Keep only what a parcel needs, and erase a person who asks for it.</p>
      </section>
    );
  }
  const back = async (id: number) => {
    try {
      await program.takeBackOrders(desk.title.id, id);
      setTrouble(undefined);
      desk.changedCopies();
      desk.say("The table is taken back.");
    } catch (err) {
      setTrouble(program.troubleOf(err));
    }
  };
  return (
    <>
      <p class="line-acts">
        <label>Find <input type="text" name="find-order" value={typed} onInput={(e) => setTyped(e.currentTarget.value)} placeholder="a name, number, town or copy" /></label>
        <label>Show <select name="which" value={state} onChange={(e) => setState(e.currentTarget.value as Which)}>{which.map(([is, words]) => <option key={is} value={is}>{words}</option>)}</select></label>
        <Make desk={desk} act="orders-csv" make={(stop) => program.sentOrders(desk.title.id, "csv", stop)}>As a table (CSV)</Make>
        <Make desk={desk} act="orders-json" make={(stop) => program.sentOrders(desk.title.id, "json", stop)}>As JSON</Make>
      </p>
      <p class="quiet" role="status" data-orders="">{plural(list.length, "order")} of {of.orders.length}, {plural(list.reduce((n, o) => n + o.order.copies, 0), "copy", "copies")}.</p>
      <div class="copies-list" tabIndex={0} role="region" aria-label="The orders listed">
        <table>
          <thead><tr><th scope="col">Order</th><th scope="col">Day</th><th scope="col">For</th><th scope="col">Copies</th><th scope="col">Paid</th><th scope="col">Is</th><th scope="col">To look at</th></tr></thead>
          <tbody>{list.slice(0, rows).map((o) => <Line key={o.order.id} of={o} places={places} show={() => show(o.order.id)} />)}</tbody>
        </table>
      </div>
      {list.length > rows && <p><Word act="more-orders" onClick={() => setRows(rows + 1000)}>Show more of them</Word></p>}
      {of.lists.length > 0 && (
        <section aria-labelledby="order-lists">
          <h3 id="order-lists">Tables that were read</h3>
          <ul class="order-lists">
            {of.lists.map((l) => (
              <li key={l.id} data-list={l.id}>
                <span><bdi>{l.name}</bdi> <span class="quiet">{new Date(l.at).toLocaleString()}, {plural(l.orders, "order")}</span></span>
                <Word act="take-back" onClick={() => void back(l.id)}>Take it back</Word>
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

function Line({ of, places, show }: { of: api.OrderShown; places: Places; show(): void }) {
  const { order: o } = of;
  const waits = lacking(o);
  return (
    <tr data-order={o.id}>
      <th scope="row"><button type="button" class="word" data-act="open-order" onClick={show}>{o.number}<span class="unseen"> {o.channel}</span></button> <span class="quiet"><bdi>{o.channel}</bdi></span></th>
      <td class="figure">{o.day}</td>
      <td class="free-text">{o.erased ? <em>erased</em> : <bdi>{o.to.name || o.to.company}</bdi>} <span class="quiet"><bdi>{o.to.town}</bdi> {o.to.country}</span></td>
      <td>{o.copies}<span class="quiet"> {of.marks.slice(0, 4).join(", ")}{of.marks.length > 4 && " …"}</span></td>
      <td class="figure">{o.price.currency && `${o.price.currency} ${numberOf(o.price, places.decimals)}`}</td>
      <td class="figure">{stateWords[o.state]}</td>
      <td class="free-text">{waits > 0 && `waits for ${plural(waits, "copy", "copies")}. `}{of.doubts.map((d) => d.words).join(" ")}</td>
    </tr>
  );
}
