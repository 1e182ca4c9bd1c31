// The model to spin in a page. Uses THREE and mockupStudio; draws only when something changed.
(function () {
  "use strict";
  const studio = mockupStudio;
  const host = document.getElementById("viewer");
  const stage = host.querySelector(".stage");
  const light = JSON.parse(document.getElementById("studio").textContent);
  const packed = Array.from(document.querySelectorAll("script.model"));
  const shown = { hardware: true, lid: true }; // by button
  const groups = { hardware: "hardware", inside: "hardware", lid: "lid" }; // node of the model: its button
  const loaded = [];
  let current = 0, model = null, opened, renderer, camera, place, scene, ground, reach = 0.1, wanted = 0;
  const middle = new THREE.Vector3();
  const home = { azimuth: light.view.azimuth, polar: light.view.polar, zoom: 1 };
  const eye = Object.assign({}, home);

  function fail(why) {
    host.dataset.state = "failed";
    host.querySelector(".says").textContent = why;
  }

  function start() {
    opened = studio.open(light);
    renderer = opened.renderer;
    const canvas = renderer.domElement;
    canvas.setAttribute("role", "img");
    canvas.setAttribute("aria-label", stage.dataset.label);
    canvas.tabIndex = 0;
    stage.appendChild(canvas);
    place = studio.stand(light, opened, 1024);
    scene = place.scene;
    camera = new THREE.PerspectiveCamera(light.view.fov, 1, 0.02, 10);
    canvas.addEventListener("webglcontextlost", () => fail("The browser has dropped the 3D view; reload the page."));
  }

  async function load(index) {
    if (!loaded[index]) loaded[index] = await studio.read(packed[index], renderer);
    return loaded[index];
  }

  async function show(index) {
    wanted = index;
    const next = await load(index);
    if (wanted !== index) return;
    if (model) scene.remove(model);
    model = next;
    current = index;
    scene.add(model);
    const bounds = new THREE.Box3().setFromObject(model);
    bounds.getCenter(middle);
    reach = bounds.getBoundingSphere(new THREE.Sphere()).radius;
    if (ground) scene.remove(ground);
    ground = studio.under(light, model);
    scene.add(ground);
    for (const button of host.querySelectorAll("[data-variant]")) {
      button.setAttribute("aria-pressed", String(Number(button.dataset.variant) === index));
    }
    draw(true);
  }

  function draw(isChanged) {
    if (!model) return;
    for (const [name, button] of Object.entries(groups)) {
      const node = model.getObjectByName(name);
      if (node) node.visible = shown[button];
    }
    const width = stage.clientWidth, height = stage.clientHeight;
    renderer.setPixelRatio(Math.min(window.devicePixelRatio || 1, 2));
    renderer.setSize(width, height);
    studio.aim(camera, eye, middle, reach, width / height);
    const isBelow = eye.polar > Math.PI / 2, isRelit = studio.turnRoom(opened, place, isBelow);
    ground.visible = !isBelow;
    renderer.shadowMap.needsUpdate = Boolean(isChanged) || isRelit;
    renderer.render(scene, camera);
    host.dataset.state = "ready";
    host.dataset.triangles = String(renderer.info.render.triangles);
    host.dataset.shown = String(current);
  }

  function put(name, isShown) {
    shown[name] = isShown;
    host.querySelector('[data-group="' + name + '"]').setAttribute("aria-pressed", String(isShown));
    draw(true);
  }

  function turn(azimuth, polar) {
    eye.azimuth += azimuth;
    eye.polar = Math.min(Math.max(eye.polar + polar, 0.02), Math.PI - 0.02);
    draw();
  }

  function zoom(factor) { eye.zoom = Math.min(Math.max(eye.zoom * factor, 0.6), 6); draw(); }

  function controls() {
    studio.hold(renderer.domElement, turn, zoom);
    for (const button of host.querySelectorAll("[data-group]")) {
      button.addEventListener("click", () => put(button.dataset.group, !shown[button.dataset.group]));
    }
    for (const button of host.querySelectorAll("[data-variant]")) {
      button.addEventListener("click", () => show(Number(button.dataset.variant)).catch((error) => fail(String(error))));
    }
    for (const button of host.querySelectorAll("[data-view]")) {
      button.addEventListener("click", () => {
        const [azimuth, polar] = button.dataset.view.split(",").map(Number);
        Object.assign(eye, home, { azimuth, polar });
        put("lid", polar < Math.PI / 2);
      });
    }
    new ResizeObserver(() => draw()).observe(stage);
  }

  (async function () {
    try {
      start();
      await show(0);
      controls();
    } catch (error) {
      fail("This browser cannot show the model (" + (error && error.message || error) + "); the pictures show the same.");
    }
  })();
})();
