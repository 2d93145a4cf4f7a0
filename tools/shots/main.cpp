// Pictures of the window's places, at three sizes, light and dark, made from a parish's folder
// without a screen:
//   loftbeat-shots PARISH FOLDER
// The practices shown are played by a simulated player, in a copy of the parish.

#include <cstdio>
#include <filesystem>
#include <string>

#include <QApplication>
#include <QElapsedTimer>
#include <QPushButton>
#include <QStandardPaths>
#include <QTemporaryDir>
#include <QThread>

#include "window/keys/keys_place.h"
#include "window/window.h"

namespace {

using loftbeat::window::Desk;
using loftbeat::window::KeysPlace;
using loftbeat::window::MainWindow;
using loftbeat::window::PracticeSight;
using loftbeat::window::Shade;

struct Size {
  const char* name;
  int width;
  int height;
  int scale;  // of type, in percent
};
constexpr Size kSizes[] = {
    {"small", 1024, 720, 100}, {"usual", 1440, 900, 100}, {"large", 1920, 1080, 150}};

void wait_ms(int ms) {
  QElapsedTimer since;
  since.start();
  while (since.elapsed() < ms) {
    QApplication::processEvents();
    QThread::msleep(5);
  }
}

QPushButton* button(QWidget& window, const QString& name) {
  for (QPushButton* found : window.findChildren<QPushButton*>())
    if (found->accessibleName() == name) return found;
  return nullptr;
}

// Plays until the last line of the play-over, where there is most to see.
void play_a_while(MainWindow& window) {
  auto& keys = dynamic_cast<KeysPlace&>(window.place(MainWindow::At::keys));
  if (QPushButton* simulated = button(window, "Try without a keyboard")) simulated->click();
  QElapsedTimer since;
  since.start();
  while (since.elapsed() < 60'000) {
    wait_ms(50);
    if (!keys.sight().verdict.empty() && !keys.sight().place.look.empty()) return;
  }
}

// What was played is kept, so that there is something to look back at.
void end_practice(MainWindow& window) {
  auto& keys = dynamic_cast<KeysPlace&>(window.place(MainWindow::At::keys));
  if (QPushButton* stop = button(window, "Stop listening")) stop->click();
  while (keys.sight().state != PracticeSight::State::closed) wait_ms(50);
  if (QPushButton* look = button(window, "Look back at it")) look->click();
  wait_ms(1500);
}

void take(MainWindow& window, const QString& path) {
  wait_ms(600);
  window.grab().save(path);
  std::printf("%s\n", path.toUtf8().constData());
}

struct NamedPlace {
  MainWindow::At at;
  const char* name;
};

void take_all(MainWindow& window, Desk& desk, const NamedPlace& place, const QString& folder) {
  window.go_to(place.at);
  for (const Size& size : kSizes) {
    for (const Shade shade : {Shade::light, Shade::dark}) {
      desk.choose_look(shade, size.scale);
      wait_ms(100);
      window.resize(size.width, size.height);
      take(window,
           QStringLiteral("%1/%2-%3-%4.png")
               .arg(folder, QLatin1String(place.name), QLatin1String(size.name),
                    shade == Shade::dark ? QStringLiteral("dark") : QStringLiteral("light")));
    }
  }
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    std::fprintf(stderr, "use: loftbeat-shots PARISH FOLDER\n");
    return 2;
  }
  qputenv("QT_QPA_PLATFORM", "offscreen");
  QStandardPaths::setTestModeEnabled(true);
  const QApplication app(argc, argv);
  const QTemporaryDir scratch;
  const std::string parish = scratch.filePath("parish").toStdString();
  std::filesystem::copy(argv[1], parish, std::filesystem::copy_options::recursive);
  const QString folder = QString::fromLocal8Bit(argv[2]);
  std::filesystem::create_directories(argv[2]);
  Desk desk(QString::fromStdString(parish), scratch.filePath("window.ini"));
  desk.choose_plan(QString::fromStdString(parish + "/evening.plan.toml"));
  MainWindow window(desk);
  window.show();
  window.go_to(MainWindow::At::keys);
  play_a_while(window);
  take_all(window, desk, {MainWindow::At::keys, "at-the-keys"}, folder);
  end_practice(window);
  take_all(window, desk, {MainWindow::At::prepare, "prepare"}, folder);
  take_all(window, desk, {MainWindow::At::look_back, "look-back"}, folder);
  window.close();
  return 0;
}
