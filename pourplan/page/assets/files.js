// What was built of the job, to save.
const showFiles = async () => {
  const { status, list } = await ask("files");
  if (status !== 200) return;
  byId("built").hidden = list.length === 0 && byId("built-news").textContent === "";
  byId("files").replaceChildren(...list.map((f) => {
    const line = make("li"), get = make("button", "", f.name);
    get.type = "button";
    get.addEventListener("click", () => saveFile(f.name));
    line.append(get, ` ${(f.bytes / 1000).toFixed(1)} kB`);
    return line;
  }));
};

// saveFile lets the browser keep a file that was built.
const saveFile = (name) => save("file?which=" + encodeURIComponent(name), name.split("/").pop());

// saveAll is for one file with everything, under the job's name.
const saveAll = () => save("zip", form.file.replace(/\/job\.toml$|\.toml$/, "").split("/").pop() + ".zip");

const save = async (address, name) => {
  const answer = await transport.ask(address);
  if (answer.status !== 200) { note(await answer.blob.text()); return; }
  const link = make("a");
  link.href = URL.createObjectURL(answer.blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
};

const building = (on) => { byId("build").disabled = on; byId("stop").hidden = !on; };

