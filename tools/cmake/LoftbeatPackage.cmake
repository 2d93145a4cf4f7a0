# Packages: a plain archive and a Debian package.
set(CPACK_GENERATOR TGZ DEB)
set(CPACK_PACKAGE_NAME loftbeat)
set(CPACK_PACKAGE_CONTACT "The Loftbeat developers <loftbeat@example.org>")
set(CPACK_RESOURCE_FILE_LICENSE "${PROJECT_SOURCE_DIR}/LICENSE")
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
include(CPack)
