import type { ComponentChildren } from "preact";
import { useLayoutEffect, useState } from "preact/hooks";
import { breakWords, itemWords, letterOf, orMissing, plotOf, plotSizes, printerName, type Plot } from "../model/inquiry";
import { written } from "../model/money";
import type * as api from "../net/api";
import * as program from "../net/program";
import { Pick, Tick, WholeField } from "./fields";
import type { Dealing } from "./quotes";

/** All quotes beside each other, in good copies at home. */
export function SideBySide(dealing: Dealing) {
  const { of, desk, act } = dealing;
  const { terms, comparison } = of;
  const keep = (change: Partial<api.Terms>) => act((now) => program.keepTerms(desk.title.id, { seen: now.terms.act, is: { ...now.terms.is, ...change } }));
  return (
    <>
      <div class="fields terms">
        <WholeField label="Good copies you need" name="copies" least={1} value={terms.is.copies} keep={async (copies) => (copies ? keep({ copies }) : true)} />
        <Pick label="Your currency" name="home" value={terms.is.currency} of={of.currencies.map((c) => [c.code, c.code] as const)} keep={(currency) => keep({ currency })} />
        <Tick name="reclaims" on={terms.is.reclaims} keep={(reclaims) => keep({ reclaims })}>Tax on printing comes back to you</Tick>
      </div>
      {comparison.rows.length === 0 ? <p class="empty">No quote yet. They stand here beside each other as soon as they are typed in under “Quotes”.</p> : (
        <>
          {comparison.cheapest.every((quote) => quote === 0) && <p class="quiet" data-none-least="">None is called the least: each leaves something out, or has expired.</p>}
          <Table dealing={dealing} />
          <Picture dealing={dealing} />
        </>
      )}
    </>
  );
}

function Table({ dealing }: { dealing: Dealing }) {
  const { of, decimals } = dealing;
  const { comparison, terms } = of;
  const wanted = comparison.copies.indexOf(terms.is.copies);
  const landed = (row: api.QuoteRow) => row.landed[wanted]!;
  const quote = (row: api.QuoteRow) => of.quotes.find((q) => q.number === row.quote)!.is;
  const line = (name: string, words: ComponentChildren, cell: (row: api.QuoteRow) => ComponentChildren, strong = false) => (
    <tr key={name} data-row={name} class={strong ? "strong" : undefined}><th scope="row">{words}</th>{comparison.rows.map((row) => <td key={row.quote} data-quote={row.quote} data-label={letterOf(of, row.quote)}><span>{cell(row)}</span></td>)}</tr>
  );
  const moved = (row: api.QuoteRow) => of.printers.some((p) => p.number === row.printer && p.moved);
  const items = landed(comparison.rows[0]!).items.map((item) => item.name);
  return (
    <div class="scrolled" tabIndex={0} role="region" aria-label="Quotes side by side">
      <table class="side-table beside-quotes">
        <thead>
          <tr><td />{comparison.rows.map((row) => (
            <th key={row.quote} scope="col" data-quote={row.quote}><span class="quote-letter">{letterOf(of, row.quote)}</span> {printerName(of, row.printer)}
              {row.holding === "expired" && <span class="expired">, expired</span>}</th>
          ))}</tr>
        </thead>
        <tbody>
          {line("holds", "Holds until", (row) => row.expires ? <>{row.expires}{row.holding === "expired" && <strong> has expired</strong>}</> : <em>not said</em>)}
          {line("ordered", `To order for ${terms.is.copies} good copies`, (row) => landed(row).ordered)}
          {items.map((name) => line(name, name[0]!.toUpperCase() + name.slice(1), (row) => {
            const item = landed(row).items.find((i) => i.name === name);
            return item?.amount ? written(item.amount, decimals) : <em>{item ? itemWords[item.state] : "not known"}</em>;
          }))}
          {line("tax", "Tax", (row) => landed(row).tax ? <>{written(landed(row).tax!, decimals)} <span class="quiet">{quote(row).tax!.included ? "in it" : terms.is.reclaims ? "comes back" : "on top"}</span></> : <em>not known</em>)}
          {line("total", "Comes to", (row) => landed(row).total ? <>{!landed(row).complete && "at least "}{written(landed(row).total!, decimals)}</> : <em>not known</em>, true)}
          {comparison.rows.some((row) => quote(row).currency !== terms.is.currency) && line("home", `In ${terms.is.currency}`, (row) => {
            const { home } = landed(row);
            return home ? <>{written(home, decimals)}{quote(row).rate && <span class="quiet"> at {quote(row).rate!.value} of {quote(row).rate!.day}</span>}</> : <em>no rate</em>;
          })}
          {line("most", "With all overs charged", (row) => landed(row).most ? written(landed(row).most!, decimals) : <em>{quote(row).tolerance?.charged === false ? "not charged" : "not known"}</em>)}
          {comparison.copies.map((copies, i) => line(`unit-${copies}`, `A good copy of ${copies}`, (row) => (
            <>{orMissing(row.landed[i]!.unit, decimals)}{comparison.cheapest[i] === row.quote && <strong class="cheapest"> least</strong>}
              {row.landed[i]!.unit && !row.landed[i]!.complete && <span class="quiet"> at least</span>}</>
          ), copies === terms.is.copies))}
          {line("fit", "As set-up and run-on", (row) => row.fit ? (
            <>{written(row.fit.setUp, decimals)} and {written(row.fit.runOn.amount, decimals)} for {row.fit.runOn.per}
              <span class="quiet"> {row.fit.method}{row.fit.off.minor > 0 ? `, off by ${written(row.fit.off, decimals)} at most` : ""}</span></>
          ) : <em>too few prices</em>)}
          {line("left-out", "Does not say", (row) => row.leftOut.length > 0 ? row.leftOut.join(", ") : <span class="quiet">nothing missing</span>)}
          {line("differs", "Otherwise than asked", (row) => (
            <>{quote(row).differs || <span class="quiet">nothing noted</span>}{moved(row) && <strong> The specification has changed since this printer was asked.</strong>}</>
          ))}
          {line("instead", "Papers offered instead", (row) => papers(quote(row).papers.filter((p) => p.instead)) || <span class="quiet">none</span>)}
          {line("touched", "Papers touched", (row) => papers(quote(row).papers.filter((p) => !p.instead)) || <span class="quiet">none</span>)}
          {line("notes", "From the visit", (row) => quote(row).notes || <span class="quiet">nothing noted</span>)}
          {line("doubts", "Taken as given", (row) => landed(row).doubts.length > 0 ? <ul>{landed(row).doubts.map((d) => <li key={d}>{d}</li>)}</ul> : <span class="quiet">nothing</span>)}
        </tbody>
      </table>
    </div>
  );
}

function papers(seen: readonly api.PaperSeen[]): string {
  return seen.map(({ paper, felt }) => [paper.name, paper.finish, paper.grammage ? `${paper.grammage} g/m²` : "", felt ? `“${felt}”` : ""].filter(Boolean).join(", ")).join("; ");
}

/** Cost over copies ordered: one line for each quote, with where the cheaper changes. */
function Picture({ dealing }: { dealing: Dealing }) {
  const { of, decimals } = dealing;
  const plot = plotOf(of, plotSizes[useNarrow() ? "narrow" : "wide"]);
  const low = of.comparison.rows.filter((row) => row.fit && row.landed.some((l) => !l.complete)).map((row) => letterOf(of, row.quote));
  if (!plot) return <p class="quiet">A quote with two prices or a set-up and a unit price is drawn as a line here.</p>;
  return (
    <figure class="plot">
      <figcaption>
        <h3>What an order comes to, by the number of copies ordered</h3>
        <ul data-breaks="">{of.comparison.breaks.map((b) => <li key={`${b.below} ${b.from}`}>{breakWords(of, b)}</li>)}</ul>
      </figcaption>
      <Lines plot={plot} label={(minor) => written({ minor, currency: of.terms.is.currency }, decimals)} />
      <p class="quiet">All charges and the tax you bear are in the lines; the dots are the printers' own prices, or what set-up and unit price make of your quantities.</p>
      {low.length > 0 && <p class="trouble" data-too-low="">What a printer did not say is in no line: {low.join(" and ")} may lie too low.</p>}
    </figure>
  );
}

/** Whether the window is too narrow for the wide picture. */
function useNarrow(): boolean {
  const [narrow, setNarrow] = useState(false);
  useLayoutEffect(() => {
    const query = matchMedia("(max-width: 620px)");
    const tell = () => setNarrow(query.matches);
    tell();
    query.addEventListener("change", tell);
    return () => query.removeEventListener("change", tell);
  }, []);
  return narrow;
}

const dashes = ["", "10 5", "2 4", "12 4 2 4", "18 5"]; // lines are told apart without colour

function Lines({ plot, label }: { plot: Plot; label(minor: number): string }) {
  const { width, height } = plot.size;
  return (
    <svg viewBox={`-92 -16 ${width + 126} ${height + 60}`} role="img" aria-label="Cost by copies ordered; the sentences above say the same">
      {plot.up.map((t) => <g key={t.minor}><line class="grid" x1={0} x2={width} y1={t.at} y2={t.at} /><text class="up" x={-8} y={t.at + 4}>{label(t.minor)}</text></g>)}
      {plot.across.map((t) => <text key={t.at} class="across" x={t.at} y={height + 18}>{t.words}</text>)}
      <text class="across" x={width / 2} y={height + 38}>copies ordered</text>
      {plot.lines.map((line, i) => (
        <g key={line.quote} data-line={line.letter}>
          <path d={line.d} stroke-dasharray={dashes[i % dashes.length]} />
          {line.points.map(([x, y]) => <circle key={x} cx={x} cy={y} r={3.5} />)}
          <text class="end" x={line.end[0] + 8} y={line.end[1] + 5}>{line.letter}</text>
        </g>
      ))}
      {plot.breaks.map((b) => (
        <g key={b.at} class="break"><line x1={b.at} x2={b.at} y1={b.y} y2={height} /><circle cx={b.at} cy={b.y} r={6} /><text x={b.at} y={b.y - 12}>{b.copies}</text></g>
      ))}
    </svg>
  );
}
