"use strict";
// Parts picked from the list or in the 3D view, and the view itself: turned about a point, drawn only when it changes.
(() => {
  const canvas = document.getElementById("canvas");
  const list = document.getElementById("pick");
  const panel = document.getElementById("picked");
  const picked = []; // called with the id of each part picked, "" for none
  document.getElementById("viewer").hidden = false;

  function pick(id) {
    list.value = id;
    const mark = list.selectedOptions[0].dataset.mark;
    panel.replaceChildren(...(mark === undefined ? [hint] : described(id, mark)));
    panel.dataset.mark = mark ?? "";
    for (const tell of picked) tell(id);
  }
  const hint = panel.firstElementChild;

  function described(id, mark) {
    const piece = [...document.querySelectorAll("details.piece")].find((each) => each.dataset.mark === mark);
    const title = document.createElement("h3");
    title.textContent = `Mark ${mark}`;
    const line = document.createElement("p");
    line.textContent = `${id}: ${list.selectedOptions[0].parentElement.label}, ${whatOf(piece)}`;
    const body = piece.querySelector(".body").cloneNode(true);
    for (const extra of body.querySelectorAll("button.copy, .said")) extra.remove();
    for (const button of body.querySelectorAll("th button")) button.replaceWith(...button.childNodes);
    for (const head of body.querySelectorAll("th")) head.removeAttribute("aria-sort");
    return [title, line, body];
  }
  const whatOf = (piece) => piece.querySelector("summary span").textContent;

  list.addEventListener("change", () => pick(list.value));

  const stored = document.getElementById("model").textContent.trim();
  const gl = canvas.getContext("webgl2", { antialias: true, preserveDrawingBuffer: true });
  if (!gl || !window.THREE || !stored) {
    for (const id of ["canvas", "buttons", "keys"]) document.getElementById(id).hidden = true;
    document.getElementById("flat").hidden = false;
    canvas.dataset.state = "flat";
    return;
  }

  const T = window.THREE;
  const renderer = new T.WebGLRenderer({ canvas, context: gl, antialias: true, preserveDrawingBuffer: true });
  renderer.outputEncoding = T.sRGBEncoding;
  const scene = new T.Scene();
  scene.background = new T.Color(0xf7f9fa);
  const camera = new T.PerspectiveCamera(32, 1, 0.01, 1000);
  const lamp = new T.DirectionalLight(0xffffff, 0.75);
  camera.add(lamp);
  lamp.position.set(-0.4, 0.8, 1);
  scene.add(camera, new T.HemisphereLight(0xffffff, 0x9aa3aa, 0.55));
  const look = { turn: -2.35, lift: 0.38, far: 5, at: new T.Vector3() };
  const nodes = new Map(); // id of a part -> its object
  const meshes = [];
  const ids = new Set([...list.options].map((option) => option.value).filter(Boolean));
  const bright = new T.MeshPhongMaterial({ color: 0xb52a00, emissive: 0x4a1000, side: T.DoubleSide, polygonOffset: true,
    polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
  let model = null;
  let asked = false;

  function draw() {
    if (asked) return;
    asked = true;
    requestAnimationFrame(() => {
      asked = false;
      const flat = Math.cos(look.lift) * look.far;
      camera.position.set(Math.cos(look.turn) * flat, Math.sin(look.lift) * look.far, -Math.sin(look.turn) * flat);
      camera.position.add(look.at);
      camera.near = look.far / 200;
      camera.far = look.far * 20;
      camera.updateProjectionMatrix();
      camera.lookAt(look.at);
      renderer.render(scene, camera);
    });
  }

  function resize() {
    const { clientWidth: width, clientHeight: height } = canvas;
    if (!width || !height) return;
    renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    renderer.setSize(width, height, false);
    camera.aspect = width / height;
    draw();
  }

  function frame(object, room) {
    const ball = new T.Box3().setFromObject(object).getBoundingSphere(new T.Sphere());
    const half = Math.atan(Math.tan(T.MathUtils.degToRad(camera.fov / 2)) * Math.min(1, camera.aspect));
    look.at.copy(ball.center);
    look.far = Math.max((ball.radius * room) / Math.sin(half), 0.05);
    draw();
  }

  const looks = {
    whole: () => { Object.assign(look, { turn: -2.35, lift: 0.38 }); frame(model, 1); },
    side: () => { Object.assign(look, { turn: -Math.PI / 2, lift: 0 }); frame(model, 1); },
    plan: () => { Object.assign(look, { turn: -Math.PI / 2, lift: Math.PI / 2 - 1e-4 }); frame(model, 1); },
    picked: () => { if (nodes.has(list.value)) frame(nodes.get(list.value), 1.15); },
    nearer: () => zoom(0.8),
    farther: () => zoom(1.25),
  };

  function zoom(factor) {
    look.far = Math.min(Math.max(look.far * factor, 0.05), 500);
    draw();
  }

  function turn(across, up) {
    look.turn -= across;
    look.lift = Math.min(Math.max(look.lift + up, -1.57), 1.57);
    draw();
  }

  function shift(across, up) {
    const reach = (2 * look.far * Math.tan(T.MathUtils.degToRad(camera.fov / 2))) / canvas.clientHeight;
    const right = new T.Vector3().setFromMatrixColumn(camera.matrixWorld, 0);
    const above = new T.Vector3().setFromMatrixColumn(camera.matrixWorld, 1);
    look.at.addScaledVector(right, -across * reach).addScaledVector(above, up * reach);
    draw();
  }

  function partUnder(event) {
    const box = canvas.getBoundingClientRect();
    const spot = new T.Vector2(
      ((event.clientX - box.left) / box.width) * 2 - 1, 1 - ((event.clientY - box.top) / box.height) * 2);
    const ray = new T.Raycaster();
    ray.setFromCamera(spot, camera);
    const hit = ray.intersectObjects(meshes.filter(visible), false)[0];
    return hit ? hit.object.userData.part : "";
  }
  const visible = (object) => object.visible && (!object.parent || visible(object.parent));

  const pointers = new Map();
  let moved = 0;
  const spread = () => {
    const [a, b] = [...pointers.values()];
    return { far: Math.hypot(a.x - b.x, a.y - b.y), x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  };
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    if (pointers.size === 0) moved = 0;
    pointers.set(event.pointerId, { x: event.clientX, y: event.clientY });
  });
  canvas.addEventListener("pointermove", (event) => {
    const from = pointers.get(event.pointerId);
    if (!from) return;
    const before = pointers.size === 2 ? spread() : null;
    const [x, y] = [event.clientX - from.x, event.clientY - from.y];
    moved += Math.abs(x) + Math.abs(y);
    pointers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (before) {
      const after = spread();
      zoom(before.far / Math.max(after.far, 1));
      shift(after.x - before.x, after.y - before.y);
    } else if (event.shiftKey || event.buttons === 2) shift(x, y);
    else turn(-x / 150, y / 150);
  });
  canvas.addEventListener("pointerup", (event) => {
    if (pointers.delete(event.pointerId) && moved < 6 && event.button === 0) pick(partUnder(event));
    if (pointers.size) moved = Infinity; // the end of a pinch is no tap
  });
  canvas.addEventListener("pointercancel", (event) => pointers.delete(event.pointerId));
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener("wheel", (event) => {
    if (document.activeElement !== canvas) return; // the page scrolls until the view is chosen
    event.preventDefault();
    zoom(Math.exp(event.deltaY / 600));
  }, { passive: false });
  canvas.addEventListener("keydown", (event) => {
    const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    if (step && event.shiftKey) shift(step[0] * 30, -step[1] * 30);
    else if (step) turn(step[0] * 0.1, step[1] * 0.1);
    else if (event.key === "+" || event.key === "=") zoom(0.8);
    else if (event.key === "-") zoom(1.25);
    else if (event.key === "0") looks.whole();
    else return;
    event.preventDefault();
  });
  for (const button of document.querySelectorAll("[data-look]")) {
    button.addEventListener("click", () => looks[button.dataset.look]());
  }
  const stairButton = document.getElementById("stair");
  stairButton.addEventListener("click", () => {
    const show = stairButton.getAttribute("aria-pressed") !== "true";
    stairButton.setAttribute("aria-pressed", String(show));
    stairButton.textContent = show ? "Stair shown" : "Stair hidden";
    model.traverse((object) => { if (object.userData.name === "stair") object.visible = show; });
    draw();
  });

  picked.push((id) => {
    for (const mesh of meshes) mesh.material = mesh.userData.part === id && id ? bright : mesh.userData.plain;
    draw();
  });

  function dress(gltf) {
    model = gltf.scene;
    const plain = new Map();
    const lines = new Map();
    const ink = new T.LineBasicMaterial({ color: 0x101418 });
    model.traverse((object) => {
      if (ids.has(object.userData.name)) nodes.set(object.userData.name, object);
      if (object.isMesh) meshes.push(object);
    });
    for (const mesh of meshes) {
      const old = mesh.material;
      if (!plain.has(old)) {
        plain.set(old, new T.MeshPhongMaterial({ color: old.color, shininess: 18, side: T.DoubleSide, polygonOffset: true,
          polygonOffsetFactor: 1, polygonOffsetUnits: 1 }));
      }
      if (!lines.has(mesh.geometry)) lines.set(mesh.geometry, new T.EdgesGeometry(mesh.geometry, 35));
      let owner = mesh;
      while (owner && !ids.has(owner.userData.name)) owner = owner.parent;
      mesh.material = plain.get(old);
      mesh.add(new T.LineSegments(lines.get(mesh.geometry), ink));
      Object.assign(mesh.userData, { part: owner ? owner.userData.name : "", plain: mesh.material });
    }
    scene.add(model);
    new ResizeObserver(resize).observe(canvas);
    resize();
    looks.whole();
    requestAnimationFrame(() => requestAnimationFrame(() => { canvas.dataset.state = "drawn"; }));
  }

  const bytes = Uint8Array.from(atob(stored), (letter) => letter.charCodeAt(0));
  new T.GLTFLoader().parse(bytes.buffer, "", dress, (error) => { throw error; });
})();
