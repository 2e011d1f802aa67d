/**
 * The smallest browser that WebKit's driver can steer and that keeps what its pages store: the one
 * that comes with the driver forgets all of it at its end. Run by `gjs -m`, with the folder to keep.
 */
import GLib from 'gi://GLib';
import Gtk from 'gi://Gtk?version=3.0';
import WebKit from 'gi://WebKit2?version=4.1';
import System from 'system';

const WIDTH_PX = 1180;
const HEIGHT_PX = 820;
const [folder] = System.programArgs;

Gtk.init(null);
const context = new WebKit.WebContext({
  website_data_manager: new WebKit.WebsiteDataManager({
    base_data_directory: `${folder}/data`,
    base_cache_directory: `${folder}/cache`,
  }),
});
context.set_automation_allowed(true);

function openView() {
  const view = new WebKit.WebView({ web_context: context, is_controlled_by_automation: true });
  const window = new Gtk.Window({ default_width: WIDTH_PX, default_height: HEIGHT_PX });
  window.add(view);
  window.show_all();
  return view;
}

context.connect('automation-started', (_context, session) => {
  const info = new WebKit.ApplicationInfo();
  // The driver refuses a browser of another name than the one that it was asked for.
  info.set_name('MiniBrowser');
  info.set_version(
    WebKit.get_major_version(),
    WebKit.get_minor_version(),
    WebKit.get_micro_version(),
  );
  session.set_application_info(info);
  session.connect('create-web-view', openView);
});
new GLib.MainLoop(null, false).run();
