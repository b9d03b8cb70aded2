@echo off
rem Starts Lumbrical from the folder it was unpacked into.
setlocal
set "home=%~dp0"
if "%home:~-1%"=="\" set "home=%home:~0,-1%"
set "jar=%home%\app\lumbrical.jar"
set "java=java"
if defined JAVA_HOME if exist "%JAVA_HOME%\bin\java.exe" set "java=%JAVA_HOME%\bin\java.exe"
where "%java%" >nul 2>nul
if errorlevel 1 if not exist "%java%" (
  echo Java was not found. Install Java 17 or later and run the command again. 1>&2
  exit /b 2
)
set "cache=%LOCALAPPDATA%\lumbrical"
set "archive=%cache%\@project.version@.jsa"
set "share="
if defined LOCALAPPDATA (
  if not exist "%cache%" mkdir "%cache%" >nul 2>nul
  set share=-XX:+AutoCreateSharedArchive "-XX:SharedArchiveFile=%archive%"
)
"%java%" %share% -version >nul 2>nul
if errorlevel 1 set "share="
"%java%" -XX:+UseSerialGC %share% -Xlog:disable -Xlog:all=off %LUMBRICAL_JAVA_OPTS% "-Dlumbrical.home=%home%" -jar "%jar%" %*
exit /b %errorlevel%
