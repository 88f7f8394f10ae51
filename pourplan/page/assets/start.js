// Starts the page: figures are there already; the model is shown if it can be.
const showModel = () => {
  const head = byId("model").textContent;
  if (head.trim() === "") return false;
  viewer.model = readModel(head, byId("blob").textContent);
  byId("blob").textContent = "";
  upload(viewer.painter, viewer.model);
  byId("no-look").hidden = true;
  byId("viewer").hidden = false;
  readSpots();
  showControls();
  speak();
  redraw();
  return true;
};

const start = () => {
  listenScale();
  listenBench();
  viewer.canvas = byId("canvas");
  try {
    viewer.painter = newPainter(viewer.canvas);
  } catch (fault) {
    byId("no-look").textContent += " " + fault.message;
  }
  if (!viewer.painter) return;
  readAddress();
  listen(viewer.canvas);
  connect();
  showModel();
};

start();
if (typeof follow === "function") follow();
