// Starts the page: figures are there already; the model is shown if it can be.
const showModel = () => {
  const head = byId("model").textContent;
  if (head.trim() === "") return hideModel();
  viewer.model = readModel(head, byId("blob").textContent);
  byId("blob").textContent = "";
  upload(viewer.painter, viewer.model);
  byId("no-look").hidden = true;
  byId("viewer").hidden = false;
  readSpots();
  chooseStage();
  showControls();
  speak();
  redraw();
};

// hideModel leaves the stand to what else there is to show.
const hideModel = () => {
  if (!viewer.model) return;
  viewer.model = null;
  readSpots();
  chooseStage();
  redraw();
};

const start = () => {
  listenScale();
  listenBench();
  showShot();
  viewer.canvas = byId("canvas");
  try {
    viewer.painter = newPainter(viewer.canvas);
  } catch (fault) {
    byId("no-look").textContent += " " + fault.message;
  }
  if (!viewer.painter) return;
  readAddress();
  for (const begin of begins) begin();
  listen(viewer.canvas);
  connect();
  showModel();
};

start();
if (typeof follow === "function") follow();
