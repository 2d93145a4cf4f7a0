#include <QApplication>
#include <QCommandLineParser>

#include "window/window.h"

int main(int argc, char** argv) {
  QApplication app(argc, argv);
  QApplication::setApplicationName(QStringLiteral("loftbeat-window"));
  QApplication::setApplicationVersion(QStringLiteral(LOFTBEAT_VERSION));
  QApplication::setDesktopFileName(QStringLiteral("loftbeat"));
  QCommandLineParser line;
  line.setApplicationDescription(QApplication::translate(
      "main", "Practise leading hymns from a keyboard: prepare, play, look back."));
  line.addHelpOption();
  line.addVersionOption();
  line.addPositionalArgument(
      QStringLiteral("parish"),
      QApplication::translate("main",
                              "Folder with hymns, organs and churches; else that of last time."),
      QStringLiteral("[parish]"));
  line.process(app);
  const QStringList folders = line.positionalArguments();
  loftbeat::window::Desk desk(folders.isEmpty() ? QString() : folders.front());
  loftbeat::window::MainWindow window(desk);
  window.show();
  return QApplication::exec();
}
