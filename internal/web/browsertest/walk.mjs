// Walks the office pages in headless Chromium, at the size of a phone and of a
// laptop: every page without a violation that axe-core finds, without a request
// to another host, and without scrolling sideways.
//
//   node walk.mjs SERVER WORK.json
//
// WORK.json names what to open; where it names a folder, each page's picture is
// left there.
import { readFileSync, mkdirSync } from "node:fs";
import { createRequire } from "node:module";
import { chromium } from "playwright-core";

const require = createRequire(import.meta.url);
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const server = process.argv[2];
const work = JSON.parse(readFileSync(process.argv[3], "utf8"));
const sizes = { phone: { width: 390, height: 844 }, laptop: { width: 1280, height: 800 } };

const wrong = [];
let checks = 0;
function check(ok, words) {
  checks++;
  if (!ok) {
    wrong.push(words);
    console.error("wrong: " + words);
  }
}

const browser = await chromium.launch({
  executablePath: work.chromium,
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});

for (const [size, viewport] of Object.entries(sizes)) {
  const phone = size === "phone";
  const context = (options = {}) => browser.newContext({ viewport, isMobile: phone, hasTouch: phone, acceptDownloads: true, javaScriptEnabled: true, ...options });
  const staff = await watched(await context(), size);
  await walk(staff, size);
  await staff.context().close();

  // An archive that nobody has an account in yet.
  const first = await watched(await context(), size);
  await first.goto(work.first + "/");
  check((await first.locator("h1").innerText()) === "Make the first account", `${size}: a new archive does not ask for its first account`);
  await look(first, size, "first");
  await first.context().close();

  // All of it works without script too.
  const plain = await watched(await context({ javaScriptEnabled: false }), size);
  await signIn(plain);
  check((await plain.locator("h1").innerText()) === "Sites", `${size}: signing in needs a script`);
  await plain.context().close();
}
await browser.close();
console.log(`${checks - wrong.length} passed, ${wrong.length} failed`);
process.exit(wrong.length === 0 ? 0 : 1);

// watched opens a page that notes what it asks of other hosts, and its mistakes.
async function watched(context, size) {
  const page = await context.newPage();
  page.setDefaultTimeout(60000);
  page.on("request", (r) => {
    const url = new URL(r.url());
    if (url.protocol !== "data:") check(url.origin === server || url.origin === work.first, `${size}: asked ${url.host} for ${url.pathname}`);
  });
  page.on("console", (m) => { if (m.type() === "error" && !/status of 4\d\d/.test(m.text())) check(false, `${size}: ${page.url()}: ${m.text()}`); });
  page.on("pageerror", (e) => check(false, `${size}: ${page.url()}: ${e.message}`));
  return page;
}

async function signIn(page) {
  await page.goto(server + "/");
  await page.getByLabel("Login").fill(work.login);
  await page.getByLabel("Password").fill(work.password);
  await page.getByRole("button", { name: "Sign in" }).click();
  await page.waitForURL("**/sites*");
}

// look checks a page as it stands.
async function look(page, size, name) {
  await page.evaluate(async () => {
    for (const i of document.images) i.loading = "eager";
    await Promise.all([...document.images].map((i) => i.decode().catch(() => {})));
  });
  const broken = await page.evaluate(() => [...document.images].filter((i) => i.naturalWidth === 0).map((i) => i.src));
  check(broken.length === 0, `${size}: ${name}: pictures that do not show: ${broken}`);
  const width = await page.evaluate(() => [document.documentElement.scrollWidth, document.documentElement.clientWidth]);
  check(width[0] <= width[1], `${size}: ${name}: ${width[0]} dots wide, ${width[1]} are there`);
  const small = await page.evaluate((least) => [...document.querySelectorAll("button, select, input:not([type=hidden]), nav a, summary")].filter((e) => {
    const b = e.getBoundingClientRect();
    return b.width > 1 && b.height > 0 && (b.height < least || b.width < 24);
  }).map((e) => (e.textContent || e.id).trim().slice(0, 30) + " " + e.getBoundingClientRect().height), size === "phone" ? 44 : 24);
  const smallBut = small.filter((s) => !/^disabled-/.test(s));
  check(smallBut.length === 0, `${size}: ${name}: targets that are too small: ${smallBut.join("; ")}`);
  await page.evaluate(axe);
  const found = await page.evaluate(() => axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }));
  check(found.violations.length === 0, `${size}: ${name}: ${found.violations.map((v) => `${v.id} (${v.help}): ${v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)).join(" | ")}`).join("; ")}`);
  if (work.shots) {
    mkdirSync(work.shots, { recursive: true });
    await page.screenshot({ path: `${work.shots}/${name}-${size}.png`, fullPage: true });
  }
}

async function walk(page, size) {
  await page.goto(server + "/");
  await look(page, size, "sign-in");
  await page.getByLabel("Login").fill(work.login);
  await page.getByLabel("Password").fill("not the password at all");
  await page.getByRole("button", { name: "Sign in" }).click();
  await look(page, size, "sign-in-wrong");
  await signIn(page);
  await look(page, size, "sites");

  // Search, by words and by place.
  await page.getByLabel("Owner, address, permit or any word").fill("quarry");
  await page.getByRole("button", { name: "Search" }).click();
  check((await page.locator(".sites > li").count()) >= 1, `${size}: the search for "quarry" finds nothing`);
  await page.goto(`${server}/sites?near=${encodeURIComponent(work.near)}&within=25000`);
  check(/north|south|east|west|here/.test(await page.locator(".sites").innerText()), `${size}: no distance stands by the sites that are near`);
  await look(page, size, "near");
  await page.goto(`${server}/sites?near=over+there`);
  await look(page, size, "near-wrong");

  // The demo, its papers, and every page about it.
  await page.goto(server + "/sites/" + work.site);
  await look(page, size, "site");
  for (const name of ["PDF of the record drawing", "DXF of the record drawing", "PDF of the county packet", "YAML job file"]) {
    const [file] = await Promise.all([page.waitForEvent("download"), page.getByRole("link", { name }).first().click()]);
    const path = await file.path();
    check(path && readFileSync(path).length > 500, `${size}: the download "${name}" holds nothing`);
  }
  for (const [name, path] of work.pages) {
    await page.goto(server + path);
    check(!work.tells[name] || (await page.locator("main").innerText()).includes(work.tells[name]), `${size}: ${name} does not tell "${work.tells[name]}"`);
    await look(page, size, name);
  }

  // A link, opened by someone who has no account.
  await page.goto(`${server}/sites/${work.site}/shares`);
  await page.getByLabel("For whom").fill("the buyer, " + size);
  await page.getByLabel("Days that it lasts").fill("7");
  await page.getByRole("button", { name: "Make the link" }).click();
  const link = await page.getByLabel(/^Link, open until/).inputValue();
  check(link.startsWith(server + "/s/"), `${size}: the link is ${link}`);
  await look(page, size, "share-made");
  const guest = await watched(await browser.newContext({ viewport: sizes[size] }), size);
  await guest.goto(link);
  check((await guest.locator("h1").innerText()) === work.name, `${size}: the link does not open the site`);
  check((await guest.getByRole("button").count()) === 0, `${size}: a visitor is offered something to change`);
  await look(guest, size, "guest");
  await guest.goto(server + "/sites");
  check(/may not do that/.test(await guest.locator("main").innerText()), `${size}: a visitor sees the list`);
  await look(guest, size, "refused");
  await guest.context().close();
  await page.goto(`${server}/sites/${work.site}/shares`);
  await page.getByRole("button", { name: "Revoke" }).first().click();
  check(/opens nothing any more/.test(await page.locator("main").innerText()), `${size}: the link cannot be revoked`);

  // Two change one job file at once: both texts are shown.
  const other = await watched(page.context(), size);
  await other.goto(server + work.job);
  await page.goto(server + work.job);
  for (const [tab, words] of [[page, "# one\n"], [other, "# the other\n"]]) {
    const text = tab.getByLabel(/^Job file/);
    await text.fill(words + `# ${size}\n` + (await text.inputValue()));
    await tab.getByRole("button", { name: "Keep the change" }).click();
  }
  check((await other.locator("h1").innerText()) === "Two changes at once", `${size}: the later of two changes is not told of the other`);
  check((await other.getByLabel("Your text").inputValue()).startsWith("# the other") && (await other.getByLabel(/^The text kept/).inputValue()).startsWith("# one"), `${size}: one of two texts is lost`);
  await look(other, size, "two-changes");
  await other.close();

  // A form that is wrong says so at the field.
  await page.goto(server + "/people");
  await page.getByLabel("Login").fill("x y z");
  await page.getByLabel("Name", { exact: true }).last().fill("Someone");
  await page.getByLabel("First password").fill("four words that rhyme not");
  await page.getByRole("button", { name: "Make the account" }).click();
  await page.getByRole("alert").getByRole("link").click();
  check((await page.evaluate(() => document.activeElement.id)) === "login", `${size}: the summary does not lead to the field`);
  await look(page, size, "people-wrong");

  await page.getByRole("button", { name: "Sign out" }).click();
  await look(page, size, "signed-out");
}
