$("choose").addEventListener("click", () => $("files").click());
$("choose-folder").addEventListener("click", () => $("folder").click());
for (const id of ["files", "folder"]) {
  $(id).addEventListener("change", (event) => {
    const files = [...event.target.files].map((file) => ({ name: file.webkitRelativePath || file.name, file }));
    event.target.value = "";
    guard(read(files));
  });
}
addEventListener("dragover", (event) => { event.preventDefault(); document.body.classList.add("over"); });
addEventListener("dragleave", (event) => { if (!event.relatedTarget) document.body.classList.remove("over"); });
addEventListener("drop", (event) => {
  event.preventDefault();
  document.body.classList.remove("over");
  guard(dropped([...event.dataTransfer.items]).then(read));
});
$("cancel").addEventListener("click", () => {
  stopped = true;
  $("doing").textContent = "Stopping";
  if (decoding) stop(decoding);
  // What does not end by itself is cut off.
  slow = setTimeout(() => restart("stopped"), 2000);
});
$("clear").addEventListener("click", () => guard(putAway()));
$("compare").addEventListener("click", () => guard(compare()));
$("save-json").addEventListener("click", () => guard(ask("json").then((b) => save(b, "stopcard.json", "application/json"))));
$("save-page").addEventListener("click", () => guard((pageText ? Promise.resolve(pageText) : ask("page", { path: open, whole: true })).then((b) => save(b, pageName + ".html", "text/html"))));
$("card-pdf").addEventListener("click", () => guard(ask("card-pdf", { path: open, paper: $("paper").value }).then((b) => save(b, stem(open) + "-card.pdf", "application/pdf"))));
$("card-png").addEventListener("click", () => guard(ask("card-png", { path: open, paper: $("paper").value }).then((b) => save(b, stem(open) + "-card.zip", "application/zip"))));
$("full").addEventListener("click", () => $("page").requestFullscreen && guard($("page").requestFullscreen()));
$("correct-form").addEventListener("submit", (event) => { event.preventDefault(); guard(correct(saying())); });
$("take-back").addEventListener("click", () => guard(correct({ title: "", stops: [], pieces: [] })));
$("save-notes").addEventListener("click", () => guard(ask("notes", { path: open, said: saying() }).then((b) => save(b, stem(open) + ".notes.toml", "text/plain"))));
for (const [id, buyer] of [["proof", false], ["buyer", true]]) {
  $(id).addEventListener("click", () => guard(ask("proof", { buyer }).then((b) => {
    pageText = b;
    idleWork = null;
    pageName = buyer ? "for-buyers" : "proof";
    ofDesign(false);
    $("shown-title").textContent = buyer ? "Sheet for buyers" : "Ready to publish?";
    $("shown").hidden = false;
    $("page").srcdoc = new TextDecoder().decode(b);
    $("shown-title").focus();
  })));
}
$("print").addEventListener("click", () => $("page").contentWindow.print());
// The keys that print mean the design that is shown.
addEventListener("keydown", (event) => {
  if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "p" && !$("shown").hidden) {
    event.preventDefault();
    $("page").contentWindow.print();
  }
});
$("whatif-form").addEventListener("submit", (event) => guard(whatif(event)));
$("hoop").addEventListener("change", () => {
  ownHoop();
  $("forget-hoop").hidden = true;
  if ($("hoop").value !== "own size") guard(set("hoop", $("hoop").value));
});
$("keep-hoop").addEventListener("click", () => guard(keepHoop()));
$("forget-hoop").addEventListener("click", () => guard(set("hoops " + settings.hoop, "")));
$("speed").addEventListener("change", () => guard(set("speed", $("speed").value)));
$("paper").addEventListener("change", () => guard(set("paper", $("paper").value)));
$("take-settings").addEventListener("click", () => $("files").click());
$("save-settings").addEventListener("click", () => save(settings.file, "settings.toml", "text/plain"));
$("no-threads").addEventListener("click", () => guard(ask("no-threads").then((now) => { inForce(now); if (given.size) return show(); })));
$("usual").addEventListener("click", () => guard(ask("read-settings", { name: "settings", value: "" }).then((now) => { inForce(now); if (given.size) return show(); })));

const begun = begin(); // what is given meanwhile waits
queue = begun.catch(() => {});
guard(begun);
// For those who drive the page by a script: the same question as the buttons ask.
window.stopcardAsk = ask;

