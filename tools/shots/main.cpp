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

void take(MainWindow& window, const QString& path) {
  wait_ms(400);
  window.grab().save(path);
  std::printf("%s\n", path.toUtf8().constData());
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) {
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
  if (argc < 4) play_a_while(window);
  constexpr const char* kPlaces[] = {"prepare", "at-the-keys", "look-back"};
  for (const Size& size : kSizes) {
    window.resize(size.width, size.height);
    for (const Shade shade : {Shade::light, Shade::dark}) {
      desk.choose_look(shade, size.scale);
      for (const int place : {1, 0, 2}) {
        window.go_to(static_cast<MainWindow::At>(place));
        take(window,
             QStringLiteral("%1/%2-%3-%4.png")
                 .arg(folder, QLatin1String(kPlaces[place]), QLatin1String(size.name),
                      shade == Shade::dark ? QStringLiteral("dark") : QStringLiteral("light")));
      }
    }
  }
  window.close();
  return 0;
}
