/** Two pictures of 24 by 16 pixels, drawn for the tests: colours that run from red to blue. */
const jpegText =
  '/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAA0JCgsKCA0LCgsODg0PEyAVExISEyccHhcgLikxMC4pLSwzOko+MzZGNywtQFdBRkxOUlNSMj5aYVpQYEpRUk//2wBDAQ4ODhMREyYVFSZPNS01T09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT09PT0//wAARCAAQABgDASIAAhEBAxEB/8QAFgABAQEAAAAAAAAAAAAAAAAAAAQG/8QAFhABAQEAAAAAAAAAAAAAAAAAABNh/8QAFQEBAQAAAAAAAAAAAAAAAAAAAAX/xAAWEQADAAAAAAAAAAAAAAAAAAAAFWH/2gAMAwEAAhEDEQA/AMxbS2oLFlhDC+6pfbRBYEMDqn//2Q==';
const pngText =
  'iVBORw0KGgoAAAANSUhEUgAAABgAAAAQEAYAAABctGPWAAAAsklEQVRIx9WUQQpBURSGv1vKFZ4XUpIMTCQj2YUdKGuwBG9qaA2yBLuQkWRgoCglT89DL6NjD3dyO2cF39f3d4wIQBSh9My5BZ3rwjeH8+UuB2j3beQbxFnglkIzKOgVuC+hMVNc4LGF+khxgXgDtbHiAskUwpXiAq8dVIZ27hvEWSANIUgUT+g9gPJe8YQ+PSgdFRf45qH401vAVCcQr5/iG8RZwJ4g62Zqv5ABEBG1Bf5mcCzukxBXtAAAAABJRU5ErkJggg==';

const bytesOf = (base64: string): Uint8Array => Uint8Array.from(Buffer.from(base64, 'base64'));

/** Half transparent at one end. */
export const png = bytesOf(pngText);
export const jpeg = bytesOf(jpegText);

/** The same as a camera that was held upright writes it: to be turned by a quarter (Exif 2.3, tag 0x0112, value 6). */
export const uprightJpeg = withOrientation(jpeg, 6);

function withOrientation(bytes: Uint8Array, orientation: number): Uint8Array {
  const tiff = [
    ...[0x4d, 0x4d, 0, 42, 0, 0, 0, 8], // big-endian, first directory at 8
    ...[0, 1], // one entry
    ...[0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0], // orientation, SHORT, one value
    ...[0, 0, 0, 0], // no further directory
  ];
  const exif = [...Buffer.from('Exif\0\0', 'latin1'), ...tiff];
  const length = exif.length + 2;
  return Uint8Array.from([
    ...bytes.slice(0, 2),
    0xff,
    0xe1,
    length >> 8,
    length & 0xff,
    ...exif,
    ...bytes.slice(2),
  ]);
}
