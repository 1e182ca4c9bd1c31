// The model to spin in a page. Uses THREE and mockupStudio; draws only when something changed.
(function () {
  "use strict";
  const studio = mockupStudio;
  const host = document.getElementById("viewer");
  const stage = host.querySelector(".stage");
  const light = JSON.parse(document.getElementById("studio").textContent);
  const packed = Array.from(document.querySelectorAll("script.model"));
  const loaded = [];
  let current = 0, model = null, opened, renderer, camera, place, scene, ground, reach = 0.1, wanted = 0;
  const middle = new THREE.Vector3();
  const steered = studio.steer(host, light, draw), eye = steered.eye;

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
    if (!loaded[index]) loaded[index] = (await studio.read(packed[index], opened))[0];
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

  const ratio = () => Math.min(window.devicePixelRatio || 1, 2);

  function isResized() {
    const size = renderer.getSize(new THREE.Vector2());
    return size.x !== stage.clientWidth || size.y !== stage.clientHeight || renderer.getPixelRatio() !== ratio();
  }

  function draw(isChanged) {
    if (!model) return;
    steered.dress(model);
    const width = stage.clientWidth, height = stage.clientHeight;
    if (isResized()) {
      renderer.setPixelRatio(ratio());
      renderer.setSize(width, height);
    }
    studio.aim(camera, eye, middle, reach, width / height);
    const isBelow = Math.cos(eye.polar) < 0, isRelit = studio.turnRoom(opened, place, isBelow);
    ground.visible = !isBelow;
    renderer.shadowMap.needsUpdate = Boolean(isChanged) || isRelit;
    renderer.render(scene, camera);
    host.dataset.state = "ready";
    host.dataset.triangles = String(renderer.info.render.triangles);
    host.dataset.shown = String(current);
  }

  function controls() {
    steered.begin();
    studio.hold(renderer.domElement, steered.turn, steered.zoom);
    for (const button of host.querySelectorAll("[data-variant]")) {
      button.addEventListener("click", () => show(Number(button.dataset.variant)).catch((error) => fail(String(error))));
    }
    new ResizeObserver(() => { if (isResized()) draw(); }).observe(stage); // it tells the size it begins with too
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
